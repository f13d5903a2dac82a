/** Two profiles side by side on the same flights. */
package org.solarmargin.cli.compare;
