/** The margin command. */
module org.solarmargin.cli {
  requires ch.randelshofer.fastdoubleparser;
  requires de.siegmar.fastcsv;
  requires info.picocli;
  requires org.slf4j;
  requires org.solarmargin.core;
  requires org.solarmargin.sim;

  opens org.solarmargin.cli to
      info.picocli;
  opens org.solarmargin.cli.replay to
      info.picocli;
  opens org.solarmargin.cli.simulate to
      info.picocli;
  opens org.solarmargin.cli.trial to
      info.picocli;
}
