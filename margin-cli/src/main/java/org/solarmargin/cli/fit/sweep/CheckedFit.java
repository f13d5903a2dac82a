package org.solarmargin.cli.fit.sweep;

import java.io.IOException;
import org.solarmargin.cli.file.InputFault;

/** The order of work: points checked, fitted, shown if asked for, the fit checked. */
public final class CheckedFit {

  /** Shows a fit, good or not. */
  public interface Show {
    void show(FitResult fit) throws IOException;
  }

  private CheckedFit() {}

  /**
   * Light that scatters from point to point may be the array's or its own sensor's: the points
   * tell, by which of the two, each point's own or the mean of all, they fit better.
   */
  private static FitResult better(Sweep sweep, FitOptions options) {
    FitResult own = new SingleDiodeFit(sweep, options).run();
    if (sweep.sunsSpread() == 0) {
      return own;
    }
    FitResult mean = new SingleDiodeFit(sweep.steady(), options).run();
    return mean.rms() < own.rms() ? mean : own;
  }

  /** Fits; an {@link InputFault} if the points are no curve of one uniform array. */
  public static FitResult of(Sweep sweep, FitOptions options) {
    try {
      return of(sweep, options, fit -> {});
    } catch (IOException e) {
      throw new java.io.UncheckedIOException(e);
    }
  }

  /** Fits and shows before the verdict: a stepped curve is best understood by looking at it. */
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
