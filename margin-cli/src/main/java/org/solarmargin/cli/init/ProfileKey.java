package org.solarmargin.cli.init;

/**
 * A key of the craft profile, for people.
 *
 * @param name of the key
 * @param usual the value in use where the profile gives none; empty where there is none
 * @param how what it is, in which unit, and how to measure it
 */
record ProfileKey(String name, String usual, String how) {}
