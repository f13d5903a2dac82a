package org.solarmargin.core.estimator;

import java.util.ArrayDeque;

/**
 * A {@link TestFlight} as written by a logger: readings filtered, delayed, held and rounded,
 * throttle logged before it takes effect.
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

  /** Voltage reading, V. */
  public double busVolts;

  /** Current reading, A. */
  public double busAmps;

  /**
   * Creates a logger.
   *
   * @param flight the flight to log, at 50 Hz
   * @param voltsFilter time constant of the voltage's filter, s
   * @param ampsFilter time constant of the current's filter, s
   * @param ampsLate delay of the current, rows
   * @param readingsLate delay of both readings, rows
   * @param heldFor number of rows for which a reading is repeated, 1 or more
   * @param step rounding step behind the filter, V and A; 0 for none
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
   * Adds another filter in series to both readings.
   *
   * @param seconds its time constant, s
   * @return this
   */
  public LoggedFlight filteredAgain(double seconds) {
    secondFilter = seconds;
    return this;
  }

  /** Advances by one row. */
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
   * The underlying flight, for true values and throttle.
   *
   * @return never null
   */
  public TestFlight flight() {
    return flight;
  }
}
