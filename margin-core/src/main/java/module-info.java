/**
 * Cells and arrays, sample gate, margin estimator, alerts and craft profile; needs the JDK alone.
 */
// the modules of the qualified exports are compiled after this one
@SuppressWarnings("module")
module org.solarmargin.core {
  exports org.solarmargin.core.alert;
  exports org.solarmargin.core.array;
  exports org.solarmargin.core.cell;
  exports org.solarmargin.core.estimator;
  exports org.solarmargin.core.limiter;
  exports org.solarmargin.core.monitor;
  exports org.solarmargin.core.profile;
  exports org.solarmargin.core.timing;
  exports org.solarmargin.core.verdict;

  // for the simulator and the command alone
  exports org.solarmargin.core.gate to
      org.solarmargin.cli;
  exports org.solarmargin.core.rotor to
      org.solarmargin.cli,
      org.solarmargin.sim;
}
