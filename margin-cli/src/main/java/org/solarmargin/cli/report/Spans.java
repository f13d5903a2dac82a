package org.solarmargin.cli.report;

import com.google.gson.JsonArray;
import java.util.ArrayList;
import java.util.List;

/**
 * Spans of time with a constant value. Above a maximum number of spans, those separated by the
 * shortest gaps are merged.
 */
final class Spans {

  private static final int MOST = 4000;

  private record Span(double from, double to, int value) {}

  private List<Span> spans = new ArrayList<>();
  private double from = Double.NaN;
  private double last = Double.NaN;
  private int value;
  private double joined;

  /** Adds the value at a time; {@code none} begins no span. */
  void take(double seconds, int now, int none) {
    if (!Double.isNaN(from) && now != value) {
      close(seconds);
    }
    if (now != none && Double.isNaN(from)) {
      from = seconds;
      value = now;
    }
    last = seconds;
  }

  /** Ends the flight. */
  void finish() {
    if (!Double.isNaN(from)) {
      close(last);
    }
  }

  private void close(double to) {
    int end = spans.size() - 1;
    boolean joins =
        end >= 0 && spans.get(end).value() == value && from - spans.get(end).to() <= joined;
    if (joins) {
      spans.set(end, new Span(spans.get(end).from(), to, value));
    } else {
      spans.add(new Span(from, to, value));
    }
    from = Double.NaN;
    if (spans.size() > MOST) {
      joined = joined == 0 ? 0.1 : 2 * joined;
      List<Span> old = spans;
      spans = new ArrayList<>();
      for (Span span : old) {
        int e = spans.size() - 1;
        boolean near = e >= 0 && span.from() - spans.get(e).to() <= joined;
        if (near) {
          // the higher value must not be lost
          Span before = spans.get(e);
          spans.set(e, new Span(before.from(), span.to(), Math.max(before.value(), span.value())));
        } else {
          spans.add(span);
        }
      }
    }
  }

  JsonArray json(double origin) {
    JsonArray all = new JsonArray();
    for (Span span : spans) {
      JsonArray one = new JsonArray();
      one.add(Series.round(span.from() - origin, 3));
      one.add(Series.round(span.to() - origin, 3));
      one.add(span.value());
      all.add(one);
    }
    return all;
  }
}
