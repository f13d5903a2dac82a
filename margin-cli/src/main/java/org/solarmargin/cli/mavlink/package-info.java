/** Conversion of MAVLink messages to rows of a flight, and writing of packets. */
package org.solarmargin.cli.mavlink;
