/** A simulated flight as telemetry over an impaired link. */
package org.solarmargin.cli.rehearse;
