/** MAVLink messages as rows of a flight, and rows as messages. */
package org.solarmargin.cli.mavlink;
