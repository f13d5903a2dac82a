package org.solarmargin.cli.fit.logger;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import org.hipparchus.linear.ArrayRealVector;
import org.hipparchus.linear.MatrixUtils;
import org.hipparchus.linear.RealVector;
import org.hipparchus.optim.nonlinear.vector.leastsquares.LeastSquaresBuilder;
import org.hipparchus.optim.nonlinear.vector.leastsquares.LevenbergMarquardtOptimizer;
import org.hipparchus.util.Pair;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.solarmargin.cli.Cli;
import org.solarmargin.cli.FlightLog;
import org.solarmargin.cli.FlightLog.Sample;
import org.solarmargin.cli.log.ColumnMap;
import org.solarmargin.cli.option.Inputs;
import org.solarmargin.core.profile.CraftProfile;

/** On simulated flights filters are found within 25 %, delays within 0.02 s. */
class LoggerFitTest {

  private static final Path GUSTY = Cli.EXAMPLES.resolve("flights/gusty-hover.csv");
  private static final Path FADE = Cli.EXAMPLES.resolve("flights/slow-fade.csv");
  private static final CraftProfile PROFILE = Inputs.profile(Cli.STILT);

  @TempDir private Path folder;

  private LoggerSummary fit(Path log) throws IOException {
    FlightRows rows = FlightRows.read(PROFILE, log, new ColumnMap(List.of()));
    return LoggerSummary.of(List.of(LoggerFit.of(PROFILE.settings(), rows)));
  }

  private Path copy(Path log, double tau, int rowsLate, int hold) throws IOException {
    return LoggedCopy.write(folder.resolve("copy.csv"), log, tau, rowsLate, hold);
  }

  @ParameterizedTest
  @ValueSource(doubles = {0.05, 0.1, 0.2, 0.35, 0.5})
  void aFilterIsFoundWithinAQuarter(double tau) throws IOException {
    for (Path log : List.of(GUSTY, FADE)) {
      LoggerSummary found = fit(copy(log, tau, 0, 1));
      assertEquals(tau, found.voltsFilter().value(), 0.25 * tau, log + " voltage");
      assertEquals(tau, found.ampsFilter().value(), 0.25 * tau, log + " current");
      assertEquals(0, found.ampsDelay().value(), 0.02);
      double sigmas = (found.voltsFilter().value() - tau) / found.voltsFilter().sd();
      assertTrue(Math.abs(sigmas) < 3.5, "off by standard errors: " + sigmas);
    }
  }

  @ParameterizedTest
  @CsvSource({"1, 1", "3, 1", "5, 1", "2, 5", "3, 5"})
  void aDelayIsFoundWithinTwoHundredths(int rowsLate, int hold) throws IOException {
    double interval = interval();
    LoggerSummary found = fit(copy(GUSTY, 0, rowsLate, hold));
    assertEquals(rowsLate * interval, found.ampsDelay().value(), 0.02);
    double period = found.period(FlightRows::voltsStatistics);
    assertEquals(hold == 1 ? 0 : hold * interval, period, 1e-3);
  }

  private static double interval() throws IOException {
    List<Sample> samples = FlightLog.samples(GUSTY);
    return samples.get(1).seconds() - samples.get(0).seconds();
  }

  @Test
  void aLogWithoutMovementDeterminesNothing() throws IOException {
    Path still =
        FlightLog.write(
            folder.resolve("still.csv"),
            GUSTY,
            (i, s) -> new Sample(s.seconds(), 24 + 0.01 * (i % 7), 3, 0.5).line());
    LoggerSummary found = fit(still);
    assertFalse(found.determined());
    assertFalse(found.voltsFilter().known());
  }

  /**
   * A general-purpose reference on the same data: Hipparchus's Levenberg-Marquardt fit of a
   * first-order response, which is given the unfiltered voltage too. The filter found from the
   * filtered log alone agrees with the reference within 25 %; the reference agrees with the true
   * time constant within 3 %.
   */
  @ParameterizedTest
  @ValueSource(doubles = {0.08, 0.3})
  void leastSquaresOfAFirstOrderResponseAgrees(double tau) throws IOException {
    List<Sample> input = FlightLog.samples(GUSTY);
    List<Sample> output = FlightLog.samples(copy(GUSTY, tau, 0, 1));
    double[] seconds = LoggedCopy.column(input, Sample::seconds);
    double[] volts = LoggedCopy.column(input, Sample::volts);
    double reference = leastSquares(seconds, volts, LoggedCopy.column(output, Sample::volts));
    assertEquals(tau, reference, 0.03 * tau);
    double found = fit(folder.resolve("copy.csv")).voltsFilter().value();
    assertEquals(reference, found, 0.25 * reference);
  }

  private static double leastSquares(double[] seconds, double[] in, double[] out) {
    var problem =
        new LeastSquaresBuilder()
            .start(new double[] {Math.log(0.15)})
            .target(out)
            .model(
                point -> {
                  double[] here = LoggedCopy.filtered(in, seconds, Math.exp(point.getEntry(0)));
                  double step = 1e-5;
                  double[] there =
                      LoggedCopy.filtered(in, seconds, Math.exp(point.getEntry(0) + step));
                  double[][] slope = new double[in.length][1];
                  for (int i = 0; i < in.length; i++) {
                    slope[i][0] = (there[i] - here[i]) / step;
                  }
                  RealVector value = new ArrayRealVector(here, false);
                  return new Pair<>(value, MatrixUtils.createRealMatrix(slope));
                })
            .maxEvaluations(200)
            .maxIterations(200)
            .build();
    RealVector point = new LevenbergMarquardtOptimizer().optimize(problem).getPoint();
    return Math.exp(point.getEntry(0));
  }
}
