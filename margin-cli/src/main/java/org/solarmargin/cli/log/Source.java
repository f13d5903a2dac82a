package org.solarmargin.cli.log;

/**
 * Position of a quantity in each line and its conversion to the log format's own unit.
 *
 * @param place index among the fields, from 0; -1 if the column is missing
 * @param factor factor on the number
 * @param offset offset added after scaling
 * @param plain whether the number is the value itself
 * @param unitStated whether its unit was stated, by the header or by the caller
 */
record Source(int place, double factor, double offset, boolean plain, boolean unitStated) {

  static final Source NONE = new Source(-1, 1, 0, true, false);

  /** The source of a column in a unit; null if the unit is not permitted. */
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
