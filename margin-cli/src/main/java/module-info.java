/** The margin command. */
@SuppressWarnings({"requires-automatic", "requires-transitive-automatic"})
module org.solarmargin.cli {
  requires com.fazecast.jSerialComm;
  requires mavlink;
  requires transitive mavlink.protocol;
  requires ch.randelshofer.fastdoubleparser;
  requires com.google.gson;
  requires de.siegmar.fastcsv;
  requires info.picocli;
  requires java.desktop;
  requires jdk.httpserver;
  requires hipparchus.core;
  requires hipparchus.optim;
  requires hipparchus.stat;
  requires net.e175.klaus.solarpositioning;
  requires xchart;
  requires owasp.encoder;
  requires org.slf4j;
  requires transitive org.solarmargin.core;
  requires org.solarmargin.sim;

  // for embedders: a monitor fed from a link
  exports org.solarmargin.cli.live;
  exports org.solarmargin.cli.mavlink;

  opens org.solarmargin.cli to
      info.picocli;
  opens org.solarmargin.cli.compare to
      info.picocli;
  opens org.solarmargin.cli.fit to
      info.picocli;
  opens org.solarmargin.cli.fit.logger to
      info.picocli;
  opens org.solarmargin.cli.replay to
      info.picocli;
  opens org.solarmargin.cli.simulate to
      info.picocli;
  opens org.solarmargin.cli.trial to
      info.picocli;
  opens org.solarmargin.cli.check to
      info.picocli;
  opens org.solarmargin.cli.init to
      info.picocli;
  opens org.solarmargin.cli.outlook to
      info.picocli;
  opens org.solarmargin.cli.rehearse to
      info.picocli;
  opens org.solarmargin.cli.watch to
      info.picocli;
  opens org.solarmargin.cli.option to
      info.picocli;
  opens org.solarmargin.cli.tune to
      info.picocli;
}
