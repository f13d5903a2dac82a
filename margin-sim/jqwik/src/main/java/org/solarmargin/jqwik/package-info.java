/**
 * Arbitraries for property tests of your own craft and code with jqwik: skies, air, crafts, and
 * simulated flights of them. A property test states what must hold in every flight; jqwik generates
 * flights and shrinks one that violates the property to the mildest that still does.
 *
 * <p>Everything is generated as lines of a scenario file ({@link
 * org.solarmargin.jqwik.ScenarioPart}), so a flight that violates a property is reported as a text
 * that {@code margin.jar simulate} and {@code rehearse} can read: see {@link
 * org.solarmargin.jqwik.SimulatedFlight}. Every number shrinks towards a stated mild value, which
 * is listed in the tables of the classes with the range and its source; if no source is named, the
 * range is common practice or our choice. The same seed gives the same flights.
 *
 * <p>This module is for tests; the simulator and the core do not need it.
 */
package org.solarmargin.jqwik;
