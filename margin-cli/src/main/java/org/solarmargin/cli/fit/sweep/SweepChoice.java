package org.solarmargin.cli.fit.sweep;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.function.Function;
import java.util.function.Predicate;

/** Which of several sweeps are fitted together, and why the others are not. */
final class SweepChoice {

  private final StatedLight light;
  private final List<FitResult> bright;
  private final List<FitResult> used;
  private final List<String> leftOut = new ArrayList<>();

  SweepChoice(List<FitResult> fits, StatedLight light) {
    this.light = light;
    bright = atLeastTwo(fits, fit -> light.suns(fit) >= SweepSet.LEAST_SUNS, this::tooDark);
    used = atLeastTwo(bright, fit -> !light.contradicts(fit), this::contradicting);
  }

  /** The sweeps that meet a condition, with the others named; all if only one or none meets it. */
  private List<FitResult> atLeastTwo(
      List<FitResult> fits, Predicate<FitResult> condition, Function<FitResult, String> reason) {
    List<FitResult> kept = fits.stream().filter(condition).toList();
    if (kept.size() < 2) {
      return List.copyOf(fits);
    }
    fits.stream().filter(condition.negate()).map(reason).forEach(leftOut::add);
    return kept;
  }

  private String tooDark(FitResult fit) {
    return String.format(
        Locale.ROOT,
        "%s: %.0f W/m2 by its current, below %.0f",
        fit.sweep().name(),
        1000 * light.suns(fit),
        1000 * SweepSet.LEAST_SUNS);
  }

  private String contradicting(FitResult fit) {
    return String.format(
        Locale.ROOT,
        "%s: a light of %.0f W/m2 is stated, but its current is that of %.0f",
        fit.sweep().name(),
        1000 * fit.sweep().meanSuns(),
        1000 * light.suns(fit));
  }

  /** The sweeps that were bright enough. */
  List<FitResult> bright() {
    return bright;
  }

  /** Those of them whose stated light does not contradict the others. */
  List<FitResult> used() {
    return used;
  }

  /** The sweeps not used, each with the reason. */
  List<String> leftOut() {
    return List.copyOf(leftOut);
  }
}
