package org.solarmargin.cli.tune.rule;

import org.solarmargin.core.alert.AlertLevel;

/**
 * What is wanted of a level: how long before an event it should stand, and when raising it was a
 * nuisance. WARNING's yardstick is the one of {@code trial}: 15 % margin kept for 10 s after.
 */
public enum LevelAim {
  /** Act at once. */
  WARNING(AlertLevel.WARNING, 1, 1, 1.15, 10, 30),
  /** Act soon. */
  CAUTION(AlertLevel.CAUTION, 2, 4, 1.3, 20, 60),
  /** Plan. */
  ADVISORY(AlertLevel.ADVISORY, 4, 6, 1.5, 30, 120);

  private final AlertLevel level;
  private final double leadFactor;
  private final double nuisanceFactor;
  private final double quietRatio;
  private final double quietSeconds;
  private final double excusedSeconds;

  LevelAim(
      AlertLevel level,
      double leadFactor,
      double nuisanceFactor,
      double quietRatio,
      double quietSeconds,
      double excusedSeconds) {
    this.level = level;
    this.leadFactor = leadFactor;
    this.nuisanceFactor = nuisanceFactor;
    this.quietRatio = quietRatio;
    this.quietSeconds = quietSeconds;
    this.excusedSeconds = excusedSeconds;
  }

  public AlertLevel level() {
    return level;
  }

  /** Lead asked of it over that asked of WARNING. */
  double leadFactor() {
    return leadFactor;
  }

  /** Nuisances borne of it over those borne of WARNING. */
  double nuisanceFactor() {
    return nuisanceFactor;
  }

  /** Available power over demand that, kept, makes a raise a nuisance. */
  double quietRatio() {
    return quietRatio;
  }

  /** How long it must be kept, s. */
  double quietSeconds() {
    return quietSeconds;
  }

  /** No nuisance if an event follows within this, s. */
  double excusedSeconds() {
    return excusedSeconds;
  }
}
