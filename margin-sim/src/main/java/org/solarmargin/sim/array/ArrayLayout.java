package org.solarmargin.sim.array;

import java.util.List;

/**
 * How the array is wired: strings side by side, each of substrings in series, each of groups of
 * equal cells.
 *
 * @param strings at least one
 * @param blockingDiodes whether each string has a diode against current flowing back into it
 */
public record ArrayLayout(List<StringLayout> strings, boolean blockingDiodes) {

  /** Copies the list. */
  public ArrayLayout {
    strings = List.copyOf(strings);
  }

  /**
   * One string.
   *
   * @param substrings in series, at least one
   */
  public record StringLayout(List<SubstringLayout> substrings) {

    /** Copies the list. */
    public StringLayout {
      substrings = List.copyOf(substrings);
    }
  }

  /**
   * Cells between two tabs.
   *
   * @param groups in series, at least one
   * @param bypassed whether a diode lies across the substring
   */
  public record SubstringLayout(List<GroupLayout> groups, boolean bypassed) {

    /** Copies the list. */
    public SubstringLayout {
      groups = List.copyOf(groups);
    }
  }

  /**
   * Equal cells.
   *
   * @param cell one of them
   * @param count how many, 1 or more
   * @param lightFactor on the array's light
   * @param temperatureOffset over the array's temperature, K
   * @param shadow of the craft's own parts, which comes and goes
   */
  public record GroupLayout(
      SimCell cell, int count, double lightFactor, double temperatureOffset, Shadow shadow) {

    /**
     * A group that no part of the craft shades.
     *
     * @param cell one of them
     * @param count how many, 1 or more
     * @param lightFactor on the array's light
     * @param temperatureOffset over the array's temperature, K
     */
    public GroupLayout(SimCell cell, int count, double lightFactor, double temperatureOffset) {
      this(cell, count, lightFactor, temperatureOffset, Shadow.NONE);
    }
  }

  /**
   * A shadow that falls on a group again and again, as attitude and heading swing.
   *
   * @param startSeconds when it falls first; infinite for never
   * @param seconds how long it stays
   * @param everySeconds from one fall to the next
   * @param light factor on the light while it stays
   * @param comingSeconds how long it takes to come, the light falling straight; 0 for at once
   */
  public record Shadow(
      double startSeconds,
      double seconds,
      double everySeconds,
      double light,
      double comingSeconds) {

    /** No shadow at all. */
    public static final Shadow NONE = new Shadow(Double.POSITIVE_INFINITY, 0, 1, 1, 0);

    /**
     * Light that is left.
     *
     * @param time s
     * @return factor
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
   * Equal cells in equal strings.
   *
   * @param cell one cell
   * @param series cells in each string
   * @param parallel strings
   * @return the layout
   */
  public static ArrayLayout uniform(SimCell cell, int series, int parallel) {
    GroupLayout group = new GroupLayout(cell, series, 1, 0);
    StringLayout string = new StringLayout(List.of(new SubstringLayout(List.of(group), false)));
    return new ArrayLayout(java.util.Collections.nCopies(parallel, string), false);
  }
}
