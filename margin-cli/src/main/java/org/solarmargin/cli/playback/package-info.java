/** A log driven through a monitor: its time model found first, and how much of it could be used. */
package org.solarmargin.cli.playback;
