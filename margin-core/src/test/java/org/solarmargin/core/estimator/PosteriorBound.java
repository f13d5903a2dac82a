package org.solarmargin.core.estimator;

import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.DoubleUnaryOperator;
import java.util.function.LongFunction;
import org.hipparchus.linear.MatrixUtils;
import org.hipparchus.linear.RealMatrix;
import org.hipparchus.linear.RealVector;
import org.solarmargin.core.timing.ChannelTiming;
import org.solarmargin.core.timing.TimeModel;

/**
 * The posterior Cramer-Rao bound (P. Tichavsky, C. Muravchik, A. Nehorai, IEEE Trans. Signal
 * Processing 46(5), 1998, recursion 21 in covariance form) of the logarithm of the available power,
 * compared with the estimator's error on the same flights.
 *
 * <p>{@code J = (Q + F J^-1 F')^-1 + E[H' R^-1 H]}, with F and Q averaged over the flights: the
 * scatter of F among flights is neglected, which is small compared with that of H. The bound is
 * given the times of fast light changes and the strength of the gusts; the filter must estimate
 * them.
 *
 * <p>Behind the filters of the readings the same recursion has the filters' outputs as two more
 * states, observed with the variance of rounding, step squared over 12 (B. Widrow, I. Kollar,
 * Quantization Noise, 2008). Readings that are held inform at their own instants only, at which the
 * errors are taken as well.
 */
final class PosteriorBound {

  private static final int SIZE = State.SIZE;

  /** First sample whose error counts: at 10 s. */
  private static final int FIRST_JUDGED = 500;

  /** Light and gusts of a family of flights. */
  record Family(String name, DoubleUnaryOperator lightDrift, double gustShare) {}

  /** Root mean square errors, relative. */
  record Result(
      String name,
      double filter,
      double stated,
      double averaged,
      double free,
      double behind,
      double schmidt,
      double normalisedInnovation) {}

  static final List<Family> FAMILIES =
      List.of(
          new Family("calm", t -> EdgeDetector.CALM_LIGHT_DRIFT, 0.25),
          new Family("cloud", t -> t % 20 > 15 && t % 20 < 16.5 ? 0.2 : 0.02, 0.25),
          new Family("gust", t -> EdgeDetector.CALM_LIGHT_DRIFT, 1));

  private final int steps;
  private final RealMatrix[] f;
  private final RealMatrix[] information;
  private final RealVector[] q;
  private final RealVector[] gradient;
  private final int[] counts;
  private double voltsVariance;
  private double ampsVariance;
  private double squaredError;
  private double statedVariance;
  private double freeVariance;
  private double behindVariance;
  private double schmidtVariance;
  private double innovation;
  private long judged;

  private PosteriorBound(int steps) {
    this.steps = steps;
    f = new RealMatrix[steps];
    information = new RealMatrix[steps];
    q = new RealVector[steps];
    gradient = new RealVector[steps];
    counts = new int[steps];
    Arrays.setAll(f, k -> MatrixUtils.createRealMatrix(SIZE, SIZE));
    Arrays.setAll(information, k -> MatrixUtils.createRealMatrix(SIZE, SIZE));
    Arrays.setAll(q, k -> MatrixUtils.createRealVector(new double[SIZE]));
    Arrays.setAll(gradient, k -> MatrixUtils.createRealVector(new double[SIZE]));
  }

  static Result measure(
      EstimatorSettings settings, Family family, int flights, double seconds, long seed) {
    PosteriorBound bound = new PosteriorBound((int) Math.round(seconds / ModelFlight.STEP));
    LongFunction<ModelFlight> draw =
        n -> new ModelFlight(settings, family.lightDrift(), family.gustShare(), n);
    for (int i = 0; i < flights; i++) {
      bound.fly(settings, draw.apply(seed + i));
    }
    return bound.result(settings, family.name());
  }

  private void fly(EstimatorSettings settings, ModelFlight flight) {
    MarginEstimator estimator = new MarginEstimator(settings);
    MarginReading reading = new MarginReading();
    Behind volts = new Behind(settings.timing().volts());
    Behind amps = new Behind(settings.timing().amps());
    voltsVariance = flight.model.voltsSd() * flight.model.voltsSd();
    ampsVariance = flight.model.ampsSd() * flight.model.ampsSd();
    RealMatrix weight =
        MatrixUtils.createRealDiagonalMatrix(new double[] {1 / voltsVariance, 1 / ampsVariance});
    RealMatrix free = prior(settings);
    RealMatrix behind = prior(settings);
    RealMatrix schmidt = prior(settings);
    for (int k = 0; k < steps && flight.flies(); k++) {
      if (k > 0) {
        RealMatrix move = MatrixUtils.createRealMatrix(flight.jacobian);
        RealVector noise = MatrixUtils.createRealVector(flight.noise);
        RealVector variances = noise.ebeMultiply(noise);
        f[k] = f[k].add(move);
        q[k] = q[k].add(variances);
        free = moved(free, move, variances);
        behind = moved(behind, kept(move), variances);
        schmidt = moved(schmidt, move, variances);
      }
      RealMatrix h = MatrixUtils.createRealMatrix(flight.model.rows(flight.x, flight.throttle));
      RealMatrix seen = h.transposeMultiply(weight).multiply(h);
      RealVector peak = MatrixUtils.createRealVector(flight.model.peakGradient());
      information[k] = information[k].add(seen);
      gradient[k] = gradient[k].add(peak);
      counts[k]++;
      free = informed(free, seen);
      boolean fresh = k % volts.every == 0;
      if (volts.filters()) {
        behind = behind(behind, h, volts, amps, k == 0);
      } else if (fresh) {
        behind = informed(behind, seen);
      }
      schmidt = considered(schmidt, h);
      long nanos = Math.round((k + 1) * ModelFlight.STEP * 1e9);
      double busVolts = volts.next(flight.busVolts);
      double busAmps = amps.next(flight.busAmps);
      estimator.command(nanos, flight.throttle);
      if (fresh) {
        estimator.reading(nanos, busVolts, busAmps, Double.NaN, reading);
      }
      if (k >= FIRST_JUDGED && fresh) {
        double error = Math.log(estimator.medianWatts() / flight.availableWatts);
        double stated = estimator.filterLogSd();
        squaredError += error * error;
        statedVariance += stated * stated;
        freeVariance += variance(free, peak);
        behindVariance += variance(behind, peak);
        schmidtVariance += variance(schmidt, peak);
        innovation += estimator.normalisedInnovation();
        judged++;
      }
      flight.nextLinearised();
    }
  }

  private Result result(EstimatorSettings settings, String name) {
    return new Result(
        name,
        Math.sqrt(squaredError / judged),
        Math.sqrt(statedVariance / judged),
        averagedRms(settings),
        Math.sqrt(freeVariance / judged),
        Math.sqrt(behindVariance / judged),
        Math.sqrt(schmidtVariance / judged),
        innovation / judged);
  }

  /** Root of the mean, over the counted steps, of the variance of the averaged recursion. */
  private double averagedRms(EstimatorSettings settings) {
    RealMatrix p = prior(settings);
    double sum = 0;
    long samples = 0;
    for (int k = 0; k < steps && counts[k] > 0; k++) {
      double share = 1.0 / counts[k];
      if (k > 0) {
        p = moved(p, f[k].scalarMultiply(share), q[k].mapMultiply(share));
      }
      p = informed(p, information[k].scalarMultiply(share));
      if (k >= FIRST_JUDGED) {
        sum += variance(p, gradient[k].mapMultiply(share)) * counts[k];
        samples += counts[k];
      }
    }
    return Math.sqrt(sum / samples);
  }

  private static RealMatrix prior(EstimatorSettings settings) {
    Covariance prior = new Covariance();
    new Prior(settings).fill(new double[SIZE], prior);
    RealMatrix p = MatrixUtils.createRealMatrix(SIZE, SIZE);
    for (int i = 0; i < SIZE; i++) {
      for (int j = 0; j < SIZE; j++) {
        p.setEntry(i, j, prior.get(i, j));
      }
    }
    return p;
  }

  private static RealMatrix moved(RealMatrix p, RealMatrix f, RealVector q) {
    RealMatrix moved = f.multiply(p).multiplyTransposed(f);
    for (int j = 0; j < SIZE; j++) {
      moved.addToEntry(j, j, q.getEntry(j));
    }
    return moved;
  }

  /** (P^-1 + I)^-1 = (1 + P I)^-1 P, which needs no inverse of a possibly singular prior. */
  private static RealMatrix informed(RealMatrix p, RealMatrix information) {
    RealMatrix one = MatrixUtils.createRealIdentityMatrix(SIZE);
    RealMatrix next = MatrixUtils.inverse(one.add(p.multiply(information))).multiply(p);
    return next.add(next.transpose()).scalarMultiply(0.5);
  }

  /** Schmidt's correction: the constants keep their variance. */
  private RealMatrix considered(RealMatrix p, RealMatrix h) {
    RealMatrix ph = p.multiplyTransposed(h);
    RealMatrix s = h.multiply(ph);
    s.addToEntry(0, 0, voltsVariance);
    s.addToEntry(1, 1, ampsVariance);
    RealMatrix change = ph.multiply(MatrixUtils.inverse(s)).multiplyTransposed(ph);
    for (int i = State.ESTIMATED; i < SIZE; i++) {
      for (int j = State.ESTIMATED; j < SIZE; j++) {
        change.setEntry(i, j, 0);
      }
    }
    RealMatrix next = p.subtract(change);
    return next.add(next.transpose()).scalarMultiply(0.5);
  }

  /** The outputs of the readings' filters do not change between two readings. */
  private static RealMatrix kept(RealMatrix move) {
    RealMatrix f = move.copy();
    for (int held : List.of(State.FILTERED_VOLTS, State.FILTERED_AMPS)) {
      f.setRow(held, new double[SIZE]);
      f.setEntry(held, held, 1);
    }
    return f;
  }

  /** Updates the filters by a reading and observes their outputs with the variance of rounding. */
  private RealMatrix behind(RealMatrix p, RealMatrix h, Behind volts, Behind amps, boolean first) {
    RealMatrix taken = MatrixUtils.createRealIdentityMatrix(SIZE);
    RealVector noise = MatrixUtils.createRealVector(new double[SIZE]);
    RealMatrix seen = MatrixUtils.createRealMatrix(SIZE, SIZE);
    for (int channel = 0; channel < 2; channel++) {
      Behind filter = channel == 0 ? volts : amps;
      int held = channel == 0 ? State.FILTERED_VOLTS : State.FILTERED_AMPS;
      double share = first ? 1 : filter.share;
      RealVector row = h.getRowVector(channel).mapMultiply(share);
      row.setEntry(held, 1 - share);
      taken.setRowVector(held, row);
      noise.setEntry(held, share * share * (channel == 0 ? voltsVariance : ampsVariance));
      seen.setEntry(held, held, 12 / (filter.step * filter.step));
    }
    return informed(moved(p, taken, noise), seen);
  }

  private static double variance(RealMatrix p, RealVector g) {
    return g.dotProduct(p.operate(g));
  }

  /** The same craft with cells and sensors known exactly. */
  static EstimatorSettings matched() {
    EstimatorSettings s = TestCraft.SETTINGS;
    EstimatorSettings.Sensors noise = s.sensors();
    return new EstimatorSettings(
        s.cell(),
        new EstimatorSettings.CellSpread(0, 0, 0),
        s.seriesCells(),
        s.parallelStrings(),
        s.thermal(),
        s.rotor(),
        new EstimatorSettings.Sensors(noise.voltageNoiseVolts(), noise.currentNoiseAmps(), 0, 0, 0),
        s.timing());
  }

  /** The same craft with readings behind a filter of 0.2 s, rounded to 0.01 V and 0.01 A. */
  static EstimatorSettings filtered(EstimatorSettings settings) {
    ChannelTiming channel = new ChannelTiming(0.2, 0, 0, 0.01);
    return settings.withTiming(
        new TimeModel(channel, channel, 0, 0, true, TimeModel.Source.STATED));
  }

  /** The same craft with readings held for some samples. */
  static EstimatorSettings held(EstimatorSettings settings, int samples) {
    ChannelTiming channel = new ChannelTiming(0, 0, samples * ModelFlight.STEP, 0);
    return settings.withTiming(
        new TimeModel(channel, channel, 0, 0, true, TimeModel.Source.STATED));
  }

  /** A reading behind filter and rounding, fresh in every so many samples. */
  private static final class Behind {

    private final double share;
    private final double step;
    private final int every;
    private double held = Double.NaN;

    Behind(ChannelTiming timing) {
      share = ModelFlight.STEP / (timing.filterSeconds() + ModelFlight.STEP);
      step = timing.roundingStep();
      every = Math.max(1, (int) Math.round(timing.periodSeconds() / ModelFlight.STEP));
    }

    boolean filters() {
      return share < 1;
    }

    double next(double reading) {
      held = Double.isNaN(held) ? reading : held + share * (reading - held);
      return step == 0 ? held : step * Math.rint(held / step);
    }
  }

  /** Prints the tables: {@code PosteriorBound FLIGHTS SECONDS}. */
  public static void main(String[] args) {
    int flights = Integer.parseInt(args[0]);
    double seconds = Double.parseDouble(args[1]);
    System.out.println(
        "rms %: filter | its sigma | bound averaged | by flight | behind the filter | considered"
            + " | NIS");
    Map<String, EstimatorSettings> crafts = new LinkedHashMap<>();
    crafts.put("matched", matched());
    crafts.put("matched, filtered", filtered(matched()));
    crafts.put("matched, 8 Hz", held(matched(), 6));
    crafts.put("matched, 4 Hz", held(matched(), 12));
    crafts.put("varied", TestCraft.SETTINGS);
    crafts.put("varied, filtered", filtered(TestCraft.SETTINGS));
    crafts.put("varied, 8 Hz", held(TestCraft.SETTINGS, 6));
    crafts.put("varied, 4 Hz", held(TestCraft.SETTINGS, 12));
    for (Map.Entry<String, EstimatorSettings> craft : crafts.entrySet()) {
      for (Family family : FAMILIES) {
        Result r = measure(craft.getValue(), family, flights, seconds, 1);
        System.out.printf(
            "%-17s %-5s %.2f | %.2f | %.2f | %.2f | %.2f | %.2f | %.2f%n",
            craft.getKey(),
            r.name(),
            100 * r.filter(),
            100 * r.stated(),
            100 * r.averaged(),
            100 * r.free(),
            100 * r.behind(),
            100 * r.schmidt(),
            r.normalisedInnovation());
      }
    }
  }
}
