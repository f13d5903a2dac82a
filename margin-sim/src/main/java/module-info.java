/** The test bench: sky, array, motors, height loop, sensors. */
module org.solarmargin.sim {
  requires org.solarmargin.core;

  exports org.solarmargin.sim;
}
