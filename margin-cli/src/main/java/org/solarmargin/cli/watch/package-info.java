/** The margin live at the ground station: rows as they come, one line that stays, a log. */
package org.solarmargin.cli.watch;
