/**
 * Arbitraries for property tests of one's own craft and code by jqwik: skies, air, crafts, and
 * simulated flights of them. A property test states what must hold in every flight; jqwik draws
 * flights, and shrinks one that breaks the property to the mildest that still does.
 *
 * <p>Everything is drawn as lines of a scenario file ({@link org.solarmargin.jqwik.ScenarioPart}),
 * so a flight that breaks a property is reported as a text that {@code margin.jar simulate} and
 * {@code rehearse} take: see {@link org.solarmargin.jqwik.SimulatedFlight}. Every number shrinks
 * towards a stated mild value, which the tables of the classes give with the range and its source;
 * where no source is named, the range is common practice or our choice. The same seed gives the
 * same flights.
 *
 * <p>This module is for tests; the simulator and the core do not need it.
 */
package org.solarmargin.jqwik;
