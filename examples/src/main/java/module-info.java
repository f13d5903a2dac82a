/** Short programs that show how to embed the library. */
module org.solarmargin.examples {
  requires org.solarmargin.cli;
  requires org.solarmargin.core;
  requires org.solarmargin.sim;

  exports org.solarmargin.examples;
}
