/**
 * The whole path in one object: sample, gate, estimator, alerts. This is what an embedder uses.
 *
 * <p><b>Rate.</b> 2 Hz to 1 kHz, uneven spacing allowed; 50 Hz is what it was tuned at.
 * <b>Units.</b> Nanoseconds from any fixed origin, volts, amperes (positive out of the array),
 * throttle 0 to 1, degrees Celsius; NaN for a cell temperature that is not measured.
 * <b>Threads.</b> One thread feeds and reads; others call {@link
 * org.solarmargin.core.monitor.MarginMonitor#snapshot()} and {@code acknowledge()}. <b>Memory.</b>
 * Nothing is allocated after construction but a snapshot. <b>Restart.</b> Save the state once a
 * second ({@link org.solarmargin.core.monitor.MarginMonitor#save}, versioned and checked) and take
 * it up after a restart; without it, or if it is damaged, the monitor warms up for three seconds
 * and says so.
 *
 * <p><b>Status.</b> IDLE: rotors idle, no margin. WARMING_UP: do not act on the margin yet. SHARP:
 * known to 5 % or better. COARSE: use the lower bound. PAST_KNEE: <em>close</em> the throttle to
 * the ceiling or below; opening it makes the craft fall. SENSOR_FAULT: what is shown is old; land.
 * NO_ESTIMATE: nothing usable has come, or the samples cannot be this array's.
 *
 * <p><b>What to do.</b> ADVISORY: plan the landing. CAUTION: stop climbing, turn for the landing
 * place. WARNING: land now, with the throttle under the ceiling. Sound what {@link
 * org.solarmargin.core.monitor.MarginMonitor#sounding()} says and call {@code acknowledge()} when
 * the flyer has seen it: it stays silent until it clears or rises. All of this is advisory and not
 * certified: keep a landing option at all times.
 *
 * <p><b>Health.</b> A {@link org.solarmargin.core.monitor.MarginMonitor#normalisedInnovation()}
 * whose mean stays far above 2 says that profile or sensors are not as stated.
 */
package org.solarmargin.core.monitor;
