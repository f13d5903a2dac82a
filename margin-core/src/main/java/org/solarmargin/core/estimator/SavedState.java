package org.solarmargin.core.estimator;

import org.solarmargin.core.state.StateBytes;

/** The estimator's state as bytes, with a version, a fingerprint of the settings and a checksum. */
final class SavedState {

  /** Length, bytes. */
  static final int BYTES = 852 + UnevenLight.STATE_BYTES;

  private static final int MARK = 0x534d5253;
  private static final int VERSION = 9;

  /** Number of values before the demand: started, airborne, time in the air. */
  private static final int FLIGHT_NUMBERS = 3;

  private final AlignedFilter main;
  private final AirborneWatch flight;
  private final UnevenLight uneven;
  private final SteadyDemand demand;
  private final FaultBias fault;
  private final int fingerprint;
  private final StateBytes bytes = new StateBytes(BYTES);

  SavedState(
      AlignedFilter main,
      AirborneWatch flight,
      UnevenLight uneven,
      SteadyDemand demand,
      FaultBias fault,
      EstimatorSettings settings) {
    this.main = main;
    this.flight = flight;
    this.uneven = uneven;
    this.demand = demand;
    this.fault = fault;
    // the text of a record has all of its components, and its hash is the same in every run of
    // a program, unlike that of an enum constant
    this.fingerprint = settings.toString().hashCode();
  }

  /** Writes the present state into an array of at least {@link #BYTES}. */
  void write(byte[] to) {
    bytes.startWriting(to, 0);
    bytes.putInt(MARK);
    bytes.putInt(VERSION);
    bytes.putInt(fingerprint);
    bytes.putInt(0);
    bytes.put(main.started() ? 1 : 0);
    bytes.put(flight.airborne() ? 1 : 0);
    bytes.put(flight.seconds());
    demand.write(bytes);
    main.filter().write(bytes);
    uneven.write(bytes);
    fault.write(bytes);
    bytes.finishWriting();
  }

  /**
   * Restores a state with its phase of the flight.
   *
   * @param nanos when it was written
   * @return false if it is damaged, of another version or of other settings, or not plausible: the
   *     parts are then to be reset
   */
  boolean restore(byte[] from, long nanos) {
    if (!startReading(from)) {
      return false;
    }
    boolean started = bytes.get() != 0;
    boolean airborne = bytes.get() != 0;
    flight.resume(nanos, airborne, bytes.getNonNegative());
    readEstimate();
    fault.read(bytes);
    return started && main.filter().healthy();
  }

  /** Restores the estimate, written by the same object; the phase of the flight is kept. */
  void restoreEstimate(byte[] from) {
    skipFlight(from);
    readEstimate();
  }

  /**
   * The states of the filter in a state that was written by the same object.
   *
   * @param to filled with them, at least {@link State#SIZE} long
   */
  void readStates(byte[] from, double[] to) {
    skipFlight(from);
    bytes.get();
    for (int i = 0; i < State.SIZE; i++) {
      to[i] = bytes.get();
    }
  }

  private boolean startReading(byte[] from) {
    return bytes.startReading(from, 0)
        && bytes.getInt() == MARK
        && bytes.getInt() == VERSION
        && bytes.getInt() == fingerprint
        && bytes.getInt() == 0;
  }

  private void skipFlight(byte[] from) {
    startReading(from);
    for (int i = 0; i < FLIGHT_NUMBERS; i++) {
      bytes.get();
    }
  }

  private void readEstimate() {
    demand.read(bytes);
    main.filter().read(bytes);
    main.filter().setAirborne(flight.airborne(), flight.seconds());
    uneven.read(bytes);
  }
}
