package org.solarmargin.cli.tune.rule;

import java.util.Arrays;
import java.util.List;
import org.solarmargin.cli.flightevent.FlightEvent;
import org.solarmargin.core.estimator.MarginReading;
import org.solarmargin.core.estimator.Status;
import org.solarmargin.core.monitor.MarginMonitor;

/**
 * The inputs of alert rules for one flight, in blocks of a tenth of a second with the worst value
 * of each. A block takes 21 bytes; the estimates themselves are not kept.
 */
public final class JudgedFlight {

  static final int TRUSTED = 1;
  static final int BLIND = 2;
  static final int KNEE = 4;
  static final int GONE = 8;
  static final int GROUNDED = 16;

  /**
   * Marks blocks where a raised alert would be a nuisance, by level: WARNING 32, CAUTION 64,
   * ADVISORY 128.
   */
  static final int QUIET = 32;

  private static final double BLOCK_SECONDS = 0.1;
  private static final int FIRST_SIZE = 1024;

  private final String name;
  private int size;
  private int[] millis = new int[FIRST_SIZE];
  private float[] margin = new float[FIRST_SIZE];
  private float[] toZero = new float[FIRST_SIZE];
  private float[] ratio = new float[FIRST_SIZE];
  private float[] volts = new float[FIRST_SIZE];
  private byte[] flags = new byte[FIRST_SIZE];
  private double origin = Double.NaN;
  private double blockEnd = Double.NEGATIVE_INFINITY;
  private double airborneSeconds;
  private List<FlightEvent> events = List.of();
  private List<FlightEvent> otherMarks = List.of();
  private List<String> notes = List.of();

  public JudgedFlight(String name) {
    this.name = name;
  }

  /**
   * Adds the monitor's state after a sample.
   *
   * @param busVolts bus voltage of the sample, V; NaN if it has none
   */
  public void add(double seconds, double busVolts, MarginMonitor monitor, boolean accepted) {
    origin = Double.isNaN(origin) ? seconds : origin;
    MarginReading reading = monitor.reading();
    Status status = reading.status();
    int flag = 0;
    boolean knee = accepted && status == Status.PAST_KNEE;
    if (knee || status.beforeKnee()) {
      flag |= TRUSTED;
      flag |= accepted && reading.availableWatts() < reading.steadyDemandWatts() ? GONE : 0;
    }
    flag |= accepted ? 0 : BLIND;
    flag |= knee ? KNEE : 0;
    flag |= monitor.airborne() ? 0 : GROUNDED;
    float voltsNow = accepted && !Double.isNaN(busVolts) ? (float) busVolts : Float.MAX_VALUE;
    double marginNow = monitor.alertMarginPercent();
    double ratioNow = reading.availableWatts() / Math.max(reading.steadyDemandWatts(), 1e-3);
    if (seconds < blockEnd
        && size > 0
        && (flags[size - 1] & ~GONE & ~KNEE) == (flag & ~GONE & ~KNEE)) {
      int last = size - 1;
      margin[last] = Math.min(margin[last], (float) marginNow);
      toZero[last] = Math.min(toZero[last], (float) reading.secondsToZero());
      ratio[last] = Math.min(ratio[last], (float) ratioNow);
      volts[last] = Math.min(volts[last], voltsNow);
      flags[last] |= (byte) flag;
      return;
    }
    if (size == millis.length) {
      grow();
    }
    if (size > 0 && (flags[size - 1] & GROUNDED) == 0) {
      airborneSeconds += seconds - origin - millis[size - 1] * 1e-3;
    }
    millis[size] = (int) Math.round((seconds - origin) * 1000);
    margin[size] = (float) marginNow;
    toZero[size] = (float) reading.secondsToZero();
    ratio[size] = (float) ratioNow;
    volts[size] = voltsNow;
    flags[size] = (byte) flag;
    size++;
    blockEnd = seconds + BLOCK_SECONDS * 0.999;
  }

  private void grow() {
    int length = 2 * size;
    millis = Arrays.copyOf(millis, length);
    margin = Arrays.copyOf(margin, length);
    toZero = Arrays.copyOf(toZero, length);
    ratio = Arrays.copyOf(ratio, length);
    volts = Arrays.copyOf(volts, length);
    flags = Arrays.copyOf(flags, length);
  }

  /** Ends the flight and, with its events known, marks where a raised alert would be a nuisance. */
  public void finish(List<FlightEvent> found, List<FlightEvent> marks) {
    events = List.copyOf(found);
    otherMarks = List.copyOf(marks);
    for (LevelAim aim : LevelAim.values()) {
      markQuiet(aim);
    }
  }

  /** Runs backwards, so that the least power ratio of the following time is known at each block. */
  private void markQuiet(LevelAim aim) {
    int[] queue = new int[size];
    int head = 0;
    int tail = 0;
    int last = size - 1;
    int next = events.size() - 1;
    for (int i = size - 1; i >= 0; i--) {
      while (tail > head && ratio[queue[tail - 1]] >= ratio[i]) {
        tail--;
      }
      queue[tail++] = i;
      while (millis[last] - millis[i] > aim.quietSeconds() * 1000) {
        last--;
      }
      while (queue[head] > last) {
        head++;
      }
      while (next >= 0 && eventMillis(next) < millis[i] - 1) {
        next--;
      }
      boolean before = next + 1 < events.size() && soon(next + 1, i, aim);
      boolean here = next >= 0 && soon(next, i, aim);
      boolean quiet = ratio[queue[head]] >= aim.quietRatio() && !before && !here;
      if (quiet) {
        flags[i] |= (byte) (QUIET << aim.ordinal());
      }
    }
  }

  private boolean soon(int event, int block, LevelAim aim) {
    double ahead = (eventMillis(event) - millis[block]) * 1e-3;
    return ahead >= -1 && ahead <= aim.excusedSeconds();
  }

  private int eventMillis(int event) {
    return (int) Math.round((events.get(event).seconds() - origin) * 1000);
  }

  /** Block in which an event begins. */
  int eventBlock(int event) {
    int at = Arrays.binarySearch(millis, 0, size, eventMillis(event));
    return at >= 0 ? at : Math.max(-at - 2, 0);
  }

  String name() {
    return name;
  }

  List<FlightEvent> events() {
    return events;
  }

  /** Adds what was recognised in the log, and the faults of its lines. */
  public void note(List<String> recognised) {
    notes = List.copyOf(recognised);
  }

  List<String> notes() {
    return notes;
  }

  /** The pilot's marks that do not denote a loss. */
  List<FlightEvent> otherMarks() {
    return otherMarks;
  }

  int size() {
    return size;
  }

  /** Time of a block since the first sample of the flight, s. */
  double seconds(int i) {
    return millis[i] * 1e-3;
  }

  /** Time in the log of the first sample of the flight, s. */
  double origin() {
    return origin;
  }

  float margin(int i) {
    return margin[i];
  }

  float toZero(int i) {
    return toZero[i];
  }

  /** Least bus voltage of a block, V; very large where no sample has one. */
  float volts(int i) {
    return volts[i];
  }

  int flags(int i) {
    return flags[i] & 0xff;
  }

  double airborneHours() {
    return airborneSeconds / 3600;
  }
}
