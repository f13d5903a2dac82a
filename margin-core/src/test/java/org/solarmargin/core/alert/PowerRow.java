package org.solarmargin.core.alert;

/** Power figures of one instant; W and s. */
record PowerRow(
    double availableWatts, double availableLowWatts, double steadyDemandWatts, double secondsToZero)
    implements PowerFigures {}
