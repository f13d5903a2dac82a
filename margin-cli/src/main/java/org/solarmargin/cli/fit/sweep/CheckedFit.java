package org.solarmargin.cli.fit.sweep;

import java.io.IOException;
import org.solarmargin.cli.file.InputFault;

/**
 * Runs a fit with its checks: the points are checked and fitted, the fit is shown if requested and
 * then checked.
 */
public final class CheckedFit {

  /** Shows a fit before it is accepted or refused. */
  public interface Show {
    void show(FitResult fit) throws IOException;
  }

  private CheckedFit() {}

  /**
   * Scatter of the light from point to point may be real or the light sensor's. Both assumptions
   * are fitted, each point's own light and the mean of all, and the better fit is returned.
   */
  private static FitResult better(Sweep sweep, FitOptions options) {
    FitResult own = new SingleDiodeFit(sweep, options).run();
    if (sweep.sunsSpread() == 0) {
      return own;
    }
    FitResult mean = new SingleDiodeFit(sweep.steady(), options).run();
    return mean.rms() < own.rms() ? mean : own;
  }

  /**
   * Fits a sweep; throws an {@link InputFault} if the points are not a curve of one uniform array.
   */
  public static FitResult of(Sweep sweep, FitOptions options) {
    try {
      return of(sweep, options, fit -> {});
    } catch (IOException e) {
      throw new java.io.UncheckedIOException(e);
    }
  }

  /**
   * Fits a sweep and shows the fit before it is checked, because a stepped curve is best understood
   * from its plot.
   */
  public static FitResult of(Sweep sweep, FitOptions options, Show show) throws IOException {
    new SweepCheck(sweep, options.lightSd()).before();
    Sweep kept = EndPoints.withoutSteps(sweep, SweepCheck.slack(options.lightSd()));
    SweepCheck check = new SweepCheck(kept, options.lightSd());
    FitResult fit;
    try {
      fit = better(kept, options);
    } catch (InputFault fault) {
      check.steps(options.vocCoeffPerKelvin());
      throw fault;
    }
    Sweep inner = EndPoints.withoutOutliers(fit);
    if (inner.size() < fit.sweep().size()) {
      fit = better(inner, options);
      check = new SweepCheck(inner, options.lightSd());
    }
    show.show(fit);
    check.steps(fit.vocCoeff());
    check.after(fit);
    return fit;
  }
}
