package org.solarmargin.cli.fit.sweep;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.cell.CellParameters;
import org.solarmargin.core.estimator.EstimatorSettings.CellSpread;

/**
 * Predicts the maximum power of sweeps of one module from other sweeps of it at other temperatures,
 * with the light from the predicted sweep's own short-circuit current and its measured temperature.
 * Arguments: folder with index.csv (sweep, kind) and the sweeps; cells in series; the coefficient
 * of the open-circuit voltage in percent per C, or nothing for the default; kinds to fit from;
 * kinds to predict.
 */
public final class OutdoorStudy {

  private OutdoorStudy() {}

  /**
   * Prints the errors.
   *
   * @param args see above
   * @throws IOException if the folder cannot be read
   */
  public static void main(String[] args) throws IOException {
    Path folder = Path.of(args[0]);
    int series = Integer.parseInt(args[1]);
    FitOptions options =
        args[2].isEmpty()
            ? FitOptions.DEFAULT
            : FitOptions.DEFAULT.withVocCoeff(
                Double.parseDouble(args[2]) / 100, CellSpread.STATED_VOC_COEFF_SD);
    List<FitResult> from = fits(folder, series, options, args[3]);
    List<FitResult> to = fits(folder, series, options, args[4]);
    List<Double> errors = new ArrayList<>();
    for (FitResult bench : from) {
      double[] own = to.stream().mapToDouble(t -> error(bench.cell(), bench.sweep(), t)).toArray();
      print(bench.sweep().name(), own);
      Arrays.stream(own).forEach(errors::add);
    }
    print("all, one sweep per profile", errors.stream().mapToDouble(e -> e).toArray());
    SweepSet set = new SweepSet(from, options);
    CellParameters joint = set.joint().cell();
    print(
        String.format(
            Locale.ROOT,
            "together, n %.3f Rs %.5f Rsh %.2f coefficient %.4f sd %.4f rms %.3f",
            joint.ideality(),
            joint.seriesOhms(),
            joint.shuntOhms(),
            100 * set.vocCoeff(),
            100 * set.vocCoeffSd(),
            set.joint().rms()),
        to.stream().mapToDouble(t -> error(joint, from.get(0).sweep(), t)).toArray());
  }

  private static List<FitResult> fits(Path folder, int series, FitOptions options, String kinds)
      throws IOException {
    List<FitResult> fits = new ArrayList<>();
    for (String line : Files.readAllLines(folder.resolve("index.csv"))) {
      String[] fields = line.split(",", -1);
      if (Arrays.asList(kinds.split("\\+", -1)).contains(fields[1])) {
        Sweep sweep = Sweep.read(folder.resolve(fields[0]), series, 1, 1000, 25);
        fits.add(CheckedFit.of(sweep, options));
      }
    }
    return fits;
  }

  /** Relative error of the predicted maximum power. */
  private static double error(CellParameters cell, Sweep bench, FitResult target) {
    double celsius = target.benchCelsius();
    SolarArray seen = target.array(target.sweep().meanSuns(), celsius);
    SolarArray predicted = new SolarArray(cell, bench.series(), bench.parallel());
    predicted.set(1, celsius);
    double suns = seen.shortCircuitAmps() / predicted.shortCircuitAmps();
    predicted.set(suns, celsius);
    predicted.solvePeak();
    return predicted.peakWatts() / seen.peakWatts() - 1;
  }

  private static void print(String name, double[] errors) {
    Arrays.sort(errors);
    System.out.printf(
        Locale.ROOT,
        "%-30s median %+.2f %%, from %+.2f to %+.2f %%%n",
        name,
        100 * errors[errors.length / 2],
        100 * errors[0],
        100 * errors[errors.length - 1]);
  }
}
