package org.solarmargin.cli.report;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import java.util.function.ToDoubleFunction;

/**
 * Reduces a flight of any length to the rows that a chart needs: in each interval of time the first
 * and last row, the minimum and maximum of every curve, and the first row of each status and level.
 * Intervals double in length when there are too many, so memory is constant.
 */
final class Downsampler {

  private static final int MOST_SLICES = 640;
  private static final int WHOLE_ROWS = 6000;
  private static final double FIRST_SLICE_SECONDS = 0.05;
  private static final List<ToDoubleFunction<FlightRow>> CURVES =
      List.of(
          row -> row.power().available(),
          row -> row.power().low(),
          row -> row.power().demand(),
          row -> row.read().volts(),
          row -> row.read().throttle(),
          FlightRow::marginWatts);

  private List<List<FlightRow>> slices = new ArrayList<>();
  private double sliceSeconds = FIRST_SLICE_SECONDS;
  private double origin = Double.NaN;
  private long sliceNumber = -1;
  private long taken;

  void take(FlightRow row) {
    taken++;
    origin = Double.isNaN(origin) ? row.seconds() : origin;
    long number = numberOf(row);
    if (number != sliceNumber) {
      if (slices.size() >= MOST_SLICES && taken > WHOLE_ROWS) {
        halve();
        number = numberOf(row);
      }
      if (number != sliceNumber) {
        closeLast();
        slices.add(new ArrayList<>());
        sliceNumber = number;
      }
    }
    slices.get(slices.size() - 1).add(row);
  }

  private long numberOf(FlightRow row) {
    return (long) Math.floor((row.seconds() - origin) / sliceSeconds);
  }

  private void closeLast() {
    if (!slices.isEmpty() && taken > WHOLE_ROWS) {
      int last = slices.size() - 1;
      slices.set(last, kept(slices.get(last)));
    }
  }

  private void halve() {
    while (slices.size() >= MOST_SLICES) {
      sliceSeconds *= 2;
      List<List<FlightRow>> merged = new ArrayList<>();
      long number = -1;
      for (List<FlightRow> slice : slices) {
        long own = numberOf(slice.get(0));
        if (own != number) {
          merged.add(new ArrayList<>());
          number = own;
        }
        merged.get(merged.size() - 1).addAll(slice);
      }
      slices = new ArrayList<>();
      for (List<FlightRow> slice : merged) {
        slices.add(kept(slice));
      }
      sliceNumber = number;
    }
  }

  private static List<FlightRow> kept(List<FlightRow> rows) {
    Set<FlightRow> keep = new LinkedHashSet<>();
    keep.add(rows.get(0));
    keep.add(rows.get(rows.size() - 1));
    for (ToDoubleFunction<FlightRow> curve : CURVES) {
      rows.stream().min(Comparator.comparingDouble(curve)).ifPresent(keep::add);
      rows.stream().max(Comparator.comparingDouble(curve)).ifPresent(keep::add);
    }
    int seen = 0;
    for (FlightRow row : rows) {
      int both = 1 << row.status() | 1 << (16 + row.level());
      if ((seen & both) != both) {
        keep.add(row);
        seen |= both;
      }
    }
    return new ArrayList<>(
        keep.stream().sorted(Comparator.comparingDouble(FlightRow::seconds)).toList());
  }

  /** The rows kept, in order of time. */
  List<FlightRow> rows() {
    List<FlightRow> all = new ArrayList<>();
    for (List<FlightRow> slice : slices) {
      all.addAll(taken > WHOLE_ROWS ? kept(slice) : slice);
    }
    return all;
  }

  /** Number of rows added. */
  long taken() {
    return taken;
  }
}
