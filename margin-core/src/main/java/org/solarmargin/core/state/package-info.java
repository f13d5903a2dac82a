/** The saved form of states; not exported. */
package org.solarmargin.core.state;
