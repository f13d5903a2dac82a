package org.solarmargin.cli.replay;

import org.solarmargin.core.alert.AlertLevel;
import org.solarmargin.core.alert.AlertReason;

/**
 * An alert raised or cleared in a replay.
 *
 * @param seconds time in the log, s
 * @param timeText the log's own text of that time
 * @param level the level raised, or the level left
 * @param raised whether raised or cleared
 * @param reason the reason
 * @param marginLowPercent lower bound of the margin, percent of the remembered peak demand
 * @param secondsToZero time to zero margin, s; infinite unless falling
 */
record AlertEvent(
    double seconds,
    String timeText,
    AlertLevel level,
    boolean raised,
    AlertReason reason,
    double marginLowPercent,
    double secondsToZero) {}
