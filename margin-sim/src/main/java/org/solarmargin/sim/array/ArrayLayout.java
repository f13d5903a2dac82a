package org.solarmargin.sim.array;

import java.util.List;

/**
 * The wiring of the array: strings in parallel, each of substrings in series, each of groups of
 * equal cells.
 *
 * @param strings strings, at least one
 * @param blockingDiodes whether each string has a diode that blocks reverse current
 */
public record ArrayLayout(List<StringLayout> strings, boolean blockingDiodes) {

  /** Copies the list. */
  public ArrayLayout {
    strings = List.copyOf(strings);
  }

  /**
   * One string.
   *
   * @param substrings substrings in series, at least one
   */
  public record StringLayout(List<SubstringLayout> substrings) {

    /** Copies the list. */
    public StringLayout {
      substrings = List.copyOf(substrings);
    }
  }

  /**
   * A substring: the cells that share a bypass diode, if there is one.
   *
   * @param groups groups in series, at least one
   * @param bypassed whether the substring has a bypass diode
   */
  public record SubstringLayout(List<GroupLayout> groups, boolean bypassed) {

    /** Copies the list. */
    public SubstringLayout {
      groups = List.copyOf(groups);
    }
  }

  /**
   * A group of equal cells.
   *
   * @param cell one of the cells
   * @param count number of cells, 1 or more
   * @param lightFactor factor on the array's light
   * @param temperatureOffset difference to the array's temperature, K
   * @param shadow intermittent shadow of parts of the craft
   */
  public record GroupLayout(
      SimCell cell, int count, double lightFactor, double temperatureOffset, Shadow shadow) {

    /**
     * Creates a group that no part of the craft shades.
     *
     * @param cell one of the cells
     * @param count number of cells, 1 or more
     * @param lightFactor factor on the array's light
     * @param temperatureOffset difference to the array's temperature, K
     */
    public GroupLayout(SimCell cell, int count, double lightFactor, double temperatureOffset) {
      this(cell, count, lightFactor, temperatureOffset, Shadow.NONE);
    }
  }

  /**
   * A shadow that falls on a group periodically, as attitude and heading change.
   *
   * @param startSeconds when it first falls on the group, s; infinite for never
   * @param seconds duration, s
   * @param everySeconds period, s
   * @param light factor on the light under the shadow
   * @param comingSeconds time over which the light falls linearly to that, s; 0 for at once
   */
  public record Shadow(
      double startSeconds,
      double seconds,
      double everySeconds,
      double light,
      double comingSeconds) {

    /** No shadow. */
    public static final Shadow NONE = new Shadow(Double.POSITIVE_INFINITY, 0, 1, 1, 0);

    /**
     * Factor on the light.
     *
     * @param time time, s
     * @return the factor
     */
    public double factor(double time) {
      if (!(time >= startSeconds)) {
        return 1;
      }
      double since = time - startSeconds;
      double within = since - everySeconds * Math.floor(since / everySeconds);
      if (within >= seconds) {
        return 1;
      }
      return within < comingSeconds ? 1 + (light - 1) * within / comingSeconds : light;
    }
  }

  /**
   * A layout of equal cells in equal strings.
   *
   * @param cell one cell
   * @param series number of cells in each string
   * @param parallel number of strings
   * @return the layout
   */
  public static ArrayLayout uniform(SimCell cell, int series, int parallel) {
    GroupLayout group = new GroupLayout(cell, series, 1, 0);
    StringLayout string = new StringLayout(List.of(new SubstringLayout(List.of(group), false)));
    return new ArrayLayout(java.util.Collections.nCopies(parallel, string), false);
  }
}
