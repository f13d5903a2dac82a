/** The simulate verb: one flight of a scenario as log and truth. */
package org.solarmargin.cli.simulate;
