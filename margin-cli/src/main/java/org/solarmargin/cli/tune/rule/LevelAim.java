package org.solarmargin.cli.tune.rule;

import org.solarmargin.core.alert.AlertLevel;

/**
 * Targets of an alert level: its required lead time before an event, and when raising it is a
 * nuisance. For WARNING the definition of a nuisance is that of {@code trial}: a margin of at least
 * 15 % for the next 10 s. The values are engineering judgement.
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

  /** Required lead time relative to that of WARNING. */
  double leadFactor() {
    return leadFactor;
  }

  /** Limit of nuisances relative to that of WARNING. */
  double nuisanceFactor() {
    return nuisanceFactor;
  }

  /** Ratio of available power to demand that, if maintained, makes a raised alert a nuisance. */
  double quietRatio() {
    return quietRatio;
  }

  /** How long it must be maintained, s. */
  double quietSeconds() {
    return quietSeconds;
  }

  /** A raised alert is not a nuisance if an event follows within this time, s. */
  double excusedSeconds() {
    return excusedSeconds;
  }
}
