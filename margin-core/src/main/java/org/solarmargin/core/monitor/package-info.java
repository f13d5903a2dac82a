/**
 * The complete path in one object: sample, gate, estimator, alerts. This is what an embedder uses.
 *
 * <p><b>Rate.</b> 2 Hz to 1 kHz, uneven spacing allowed; it was tuned at 50 Hz. <b>Units.</b>
 * Nanoseconds from any fixed origin, volts, amperes (positive out of the array), throttle 0 to 1,
 * degrees Celsius; NaN if the cell temperature is not measured. <b>Threads.</b> One thread feeds
 * and reads; others call {@link org.solarmargin.core.monitor.MarginMonitor#snapshot()} and {@code
 * acknowledge()}. <b>Memory.</b> Nothing is allocated after construction except snapshots.
 * <b>Restart.</b> Save the state once a second ({@link
 * org.solarmargin.core.monitor.MarginMonitor#save}, with version and checksum) and restore it after
 * a restart; without it, or if it is damaged, the status is WARMING_UP for at least three seconds.
 *
 * <p><b>Status.</b> IDLE: rotors idle, no margin. WARMING_UP: do not act on the margin yet. SHARP:
 * known to 5 % or better. COARSE: use the lower bound. PAST_KNEE: <em>close</em> the throttle to
 * the ceiling or below; opening it makes the craft fall. SENSOR_FAULT: the figures are out of date;
 * land. NO_ESTIMATE: no usable sample has arrived, or the samples cannot come from this array.
 *
 * <p><b>What to do.</b> ADVISORY: plan the landing. CAUTION: stop climbing, head for the landing
 * place. WARNING: land now, with the throttle below the ceiling. Sound the level that {@link
 * org.solarmargin.core.monitor.MarginMonitor#sounding()} returns and call {@code acknowledge()}
 * when the flyer has seen it: it is then silent until it is cleared or a higher level is raised.
 * All of this is advisory and not certified: keep a landing option at all times.
 *
 * <p><b>Health.</b> A {@link org.solarmargin.core.monitor.MarginMonitor#normalisedInnovation()}
 * whose mean stays far above 2 indicates that profile or sensors are not as stated.
 */
package org.solarmargin.core.monitor;
