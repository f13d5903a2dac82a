/** The simulator: sky, array, air, motors, height control, sensors, scenarios, trials. */
module org.solarmargin.sim {
  requires transitive org.solarmargin.core;
  requires de.siegmar.fastcsv;
  requires net.e175.klaus.solarpositioning;

  exports org.solarmargin.sim.air;
  exports org.solarmargin.sim.array;
  exports org.solarmargin.sim.craft;
  exports org.solarmargin.sim.flight;
  exports org.solarmargin.sim.scenario;
  exports org.solarmargin.sim.sensor;
  exports org.solarmargin.sim.sky;
  exports org.solarmargin.sim.timing;
  exports org.solarmargin.sim.trial;
}
