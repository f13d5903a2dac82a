package org.solarmargin.core.estimator;

import org.solarmargin.core.align.Aligner;
import org.solarmargin.core.align.Sample;
import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.timing.TimeModel;

/**
 * A filter with the time model of its input: it takes commands and readings and gives the corrected
 * state. The estimator has one; the search for the time model runs others in parallel.
 */
final class AlignedFilter {

  private static final double NANOS = 1e-9;

  /**
   * Commands within a short step that differ by no more than this act on the rotors as their mean;
   * for the readings the last one counts. This and the length of a short step are engineering
   * judgement, not tuned.
   */
  private static final double SMALL_MOVE = 0.02;

  private static final long SHORT_NANOS = 30_000_000L;

  private final SolarArray array;
  private final Aligner aligner;
  private final HiddenStateFilter filter;
  private final Sample sample = new Sample();

  private int meanOf = 1;
  private boolean started;
  private boolean commanded;
  private long now;
  private double throttle;
  private double elapsed;
  private double coasted;
  private double stepSeconds;

  AlignedFilter(EstimatorSettings settings, TimeModel model) {
    EstimatorSettings.Sensors sensors = settings.sensors();
    array = settings.newArray();
    aligner = new Aligner(model, sensors.voltageNoiseVolts(), sensors.currentNoiseAmps());
    filter = new HiddenStateFilter(settings, array);
    configure(model);
  }

  /** Changes the time model from now on. */
  void configure(TimeModel model) {
    aligner.configure(model);
    boolean filtered = model.volts().filterSeconds() > 0 || model.amps().filterSeconds() > 0;
    boolean begins = filtered && started && !filter.covariance().filtered();
    filter.setFiltered(filtered);
    if (begins) {
      filter.beginFilters(sample);
    }
    filter.setThrottleUsed(model.throttleUsed());
  }

  void reset() {
    aligner.reset();
    filter.reset();
    array.curve().forgetPeak();
    started = false;
    commanded = false;
    now = 0;
    throttle = 0;
    elapsed = 0;
    coasted = 0;
    sample.cellCelsius = Double.NaN;
  }

  /** Reinitialises the filter at the present sample; waiting readings and commands are kept. */
  void restart() {
    filter.reset();
    array.curve().forgetPeak();
    filter.start(sample.volts, sample.amps, throttle);
  }

  /** Continues from a state that the filter has been given, valid at an instant. */
  void resume(long nanos) {
    started = true;
    commanded = true;
    now = nanos;
    throttle = filter.throttle();
  }

  /**
   * Propagates a state of an earlier instant, which the filter has been given, to the present
   * sample.
   */
  void returnFrom(long nanos) {
    filter.coast(Math.max((now - nanos) * NANOS, 0), throttle);
    filter.holdFiltered(sample.volts, sample.amps);
  }

  /** Adds a command; commands must arrive in order of time. */
  void command(long nanos, double newThrottle) {
    aligner.command(nanos, newThrottle);
    if (!commanded) {
      // until a delayed command takes effect, the first one is the best guess
      throttle = newThrottle;
      commanded = true;
    }
  }

  /** Adds a reading; a value that is not fresh is NaN. */
  void reading(long nanos, double volts, double amps, double cellCelsius) {
    reading(nanos, volts, amps, cellCelsius, 1);
  }

  /**
   * Adds the mean of several readings; a value that is not fresh is NaN.
   *
   * @param count number of readings; the sigma of the noise is reduced by its fourth root only,
   *     because the time difference between voltage and current does not average out
   */
  void reading(long nanos, double volts, double amps, double cellCelsius, int count) {
    meanOf = count;
    if (!Double.isNaN(volts)) {
      aligner.volts(nanos, volts);
    }
    if (!Double.isNaN(amps)) {
      aligner.amps(nanos, amps);
    }
    temperature(cellCelsius);
  }

  /** Adds a measured cell temperature, for the next measurement update; NaN is none. */
  void temperature(double cellCelsius) {
    if (!Double.isNaN(cellCelsius)) {
      sample.cellCelsius = cellCelsius;
    }
  }

  /**
   * Predicts to the next instant at which a reading is due.
   *
   * @return false if none is due
   */
  boolean predict() {
    if (!commanded || !aligner.next(sample)) {
      return false;
    }
    if (!started) {
      takeCommands(sample.nanos);
      filter.start(sample.volts, sample.amps, throttle);
      started = true;
      now = sample.nanos;
      elapsed = 0;
      sample.voltsNew = 1;
      sample.ampsNew = 1;
    } else {
      elapsed = coasted + Math.max((sample.nanos - now) * NANOS, 0);
      moveTo(sample.nanos);
      sample.voltsNew = aligner.voltsNew(stepSeconds);
      sample.ampsNew = aligner.ampsNew(stepSeconds);
    }
    coasted = 0;
    sample.throttle = throttle;
    double averaged = Math.sqrt(meanOf);
    sample.voltsVariance /= averaged;
    sample.ampsVariance /= averaged;
    return true;
  }

  /** Measurement update at the instant of the last {@link #predict}; false if it is deferred. */
  boolean correct(boolean mayHold) {
    boolean corrected = filter.correct(sample, mayHold);
    if (corrected) {
      sample.cellCelsius = Double.NaN;
    }
    return corrected;
  }

  /** Propagates the state while no sample arrives. */
  void coast(long nanos) {
    double seconds = Math.max((nanos - now) * NANOS, 0);
    takeCommands(nanos);
    sample.cellCelsius = Double.NaN;
    if (seconds > 0) {
      filter.setFilterStep(aligner.voltsNew(seconds), aligner.ampsNew(seconds));
      filter.coast(seconds, throttle);
      coasted += seconds;
      now = nanos;
    }
  }

  private void moveTo(long nanos) {
    boolean brief = nanos - now <= SHORT_NANOS;
    long from = now;
    double impulse = 0;
    while (aligner.commandDue(nanos)) {
      long at = Math.max(aligner.commandTime(), from);
      double next = aligner.takeCommand();
      impulse += throttle * (at - from);
      from = at;
      boolean small = brief && Math.abs(next - throttle) <= SMALL_MOVE;
      throttle = next;
      if (at > now && !small) {
        step(at, impulse);
        impulse = 0;
      }
    }
    if (nanos > now) {
      step(nanos, impulse + throttle * (nanos - from));
    } else {
      filter.hold(throttle);
    }
  }

  /**
   * The sensors' filters are updated to the end of each step when the next step begins, or by the
   * reading at its end.
   *
   * @param impulse integral of the throttle from now on, ns
   */
  private void step(long nanos, double impulse) {
    double seconds = (nanos - now) * NANOS;
    filter.hold(impulse / (nanos - now));
    filter.predict(seconds, throttle);
    filter.setFilterStep(aligner.voltsNew(seconds), aligner.ampsNew(seconds));
    stepSeconds = seconds;
    now = nanos;
  }

  private void takeCommands(long nanos) {
    while (aligner.commandDue(nanos)) {
      throttle = aligner.takeCommand();
    }
  }

  boolean started() {
    return started;
  }

  /** Time between the last two samples, including that without usable readings, s. */
  double elapsedSeconds() {
    return elapsed;
  }

  Sample sample() {
    return sample;
  }

  HiddenStateFilter filter() {
    return filter;
  }

  SolarArray array() {
    return array;
  }

  Aligner aligner() {
    return aligner;
  }
}
