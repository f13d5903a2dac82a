/**
 * Replay of a log through a monitor: its time model is identified first, and its usable share is
 * counted.
 */
package org.solarmargin.cli.playback;
