package org.solarmargin.core.alert;

/** Figures of one instant; watts and s. */
record PowerRow(
    double availableWatts, double availableLowWatts, double steadyDemandWatts, double secondsToZero)
    implements PowerFigures {}
