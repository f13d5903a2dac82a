package org.solarmargin.cli.init;

/**
 * Description of a key of the craft profile.
 *
 * @param name name of the key
 * @param usual the default value; empty if there is none
 * @param how meaning, unit and how to measure it
 */
record ProfileKey(String name, String usual, String how) {}
