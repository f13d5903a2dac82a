package org.solarmargin.cli.log;

/**
 * Where a quantity stands in each line, and how its text becomes the log format's own unit.
 *
 * @param place among the fields, 0 is the first; -1 if it is not there
 * @param factor on the number
 * @param offset added after it
 * @param plain whether the number is the value itself
 * @param unitStated whether its unit was stated, by the header or by the caller
 */
record Source(int place, double factor, double offset, boolean plain, boolean unitStated) {

  static final Source NONE = new Source(-1, 1, 0, true, false);

  /** A column in a unit; null if it knows no such unit. */
  static Source of(Column column, int place, String unit) {
    double factor = column.factor(unit);
    return Double.isNaN(factor)
        ? null
        : new Source(place, factor, column.offset(unit), false, true);
  }

  Source at(int newPlace) {
    return new Source(newPlace, factor, offset, plain, unitStated);
  }

  Source withUnitStated() {
    return new Source(place, factor, offset, plain, true);
  }

  double convert(double value) {
    return plain ? value : value * factor + offset;
  }
}
