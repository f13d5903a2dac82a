package org.solarmargin.sim;

/** x. */
public final class Dummy {
  private Dummy() {}
}
