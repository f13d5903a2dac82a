package org.solarmargin.core.estimator;

import java.util.ArrayDeque;

/**
 * A {@link TestFlight} as a logger writes it: readings filtered, late, held and rounded, throttle
 * logged before it acts.
 */
public final class LoggedFlight {

  private final TestFlight flight;
  private final double voltsFilter;
  private final double ampsFilter;
  private final int ampsLate;
  private final int readingsLate;
  private final int heldFor;
  private final double step;
  private final ArrayDeque<double[]> past = new ArrayDeque<>();
  private double filteredVolts = Double.NaN;
  private double filteredAmps;
  private double secondVolts = Double.NaN;
  private double secondAmps;
  private double secondFilter;
  private double heldVolts;
  private double heldAmps;
  private long row;

  /** Reading, V. */
  public double busVolts;

  /** Reading, A. */
  public double busAmps;

  /**
   * A logger.
   *
   * @param flight what it logs, at 50 Hz
   * @param voltsFilter s
   * @param ampsFilter s
   * @param ampsLate rows by which the current is late
   * @param readingsLate rows by which both readings are late
   * @param heldFor rows for which a reading is repeated, 1 or more
   * @param step of rounding behind the filter, V and A; 0 is none
   */
  public LoggedFlight(
      TestFlight flight,
      double voltsFilter,
      double ampsFilter,
      int ampsLate,
      int readingsLate,
      int heldFor,
      double step) {
    this.flight = flight;
    this.voltsFilter = voltsFilter;
    this.ampsFilter = ampsFilter;
    this.ampsLate = ampsLate;
    this.readingsLate = readingsLate;
    this.heldFor = heldFor;
    this.step = step;
  }

  /**
   * The same behind another filter of both readings.
   *
   * @param seconds its time, s
   * @return this
   */
  public LoggedFlight filteredAgain(double seconds) {
    secondFilter = seconds;
    return this;
  }

  /** Moves on by one row. */
  public void next() {
    flight.next();
    if (Double.isNaN(filteredVolts)) {
      filteredVolts = flight.busVolts;
      filteredAmps = flight.busAmps;
    }
    double h = 0.02;
    filteredVolts += h / (voltsFilter + h) * (flight.busVolts - filteredVolts);
    filteredAmps += h / (ampsFilter + h) * (flight.busAmps - filteredAmps);
    if (Double.isNaN(secondVolts)) {
      secondVolts = filteredVolts;
      secondAmps = filteredAmps;
    }
    secondVolts += h / (secondFilter + h) * (filteredVolts - secondVolts);
    secondAmps += h / (secondFilter + h) * (filteredAmps - secondAmps);
    past.addFirst(new double[] {round(secondVolts), round(secondAmps)});
    double volts = at(readingsLate)[0];
    double amps = at(readingsLate + ampsLate)[1];
    if (row % heldFor == 0) {
      heldVolts = volts;
      heldAmps = amps;
    }
    row++;
    busVolts = heldVolts;
    busAmps = heldAmps;
    while (past.size() > 64) {
      past.removeLast();
    }
  }

  private double[] at(int rowsAgo) {
    return past.stream().skip(Math.min(rowsAgo, past.size() - 1)).findFirst().orElseThrow();
  }

  private double round(double value) {
    return step == 0 ? value : step * Math.rint(value / step);
  }

  /**
   * Time of the row.
   *
   * @return ns
   */
  public long nanos() {
    return Math.round(flight.seconds * 1e9);
  }

  /**
   * The flight behind it, for truth and throttle.
   *
   * @return never null
   */
  public TestFlight flight() {
    return flight;
  }
}
