package org.solarmargin.cli.report;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.google.gson.JsonArray;
import java.util.Random;
import org.junit.jupiter.api.Test;

/** Times at which an alert stood, or a status was. */
class SpansTest {

  private static final int NONE = 0;

  @Test
  void aSpanLastsUntilTheValueChanges() {
    Spans spans = new Spans();
    int[] values = {0, 2, 2, 3, 0, 3, 3};
    for (int i = 0; i < values.length; i++) {
      spans.take(10 + i, values[i], NONE);
    }
    spans.finish();
    assertEquals("[[1,3,2],[3,4,3],[5,6,3]]", spans.json(10).toString());
  }

  @Test
  void nothingThatStandsIsNoSpan() {
    Spans spans = new Spans();
    for (int i = 0; i < 9; i++) {
      spans.take(i, NONE, NONE);
    }
    spans.finish();
    assertEquals("[]", spans.json(0).toString());
  }

  /**
   * An alert that flickers through a long flight is drawn in few spans: each value that stood is
   * covered by a span at least as high, and no time is counted twice.
   */
  @Test
  void manySpansAreJoinedAndNoneIsLost() {
    Random random = new Random(1);
    Spans spans = new Spans();
    int count = 40_000;
    int[] values = new int[count];
    for (int i = 0; i < count; i++) {
      values[i] = random.nextInt(4);
      spans.take(0.02 * i, values[i], NONE);
    }
    spans.finish();
    JsonArray all = spans.json(0);
    assertTrue(all.size() <= 4000, "spans: " + all.size());
    int at = 0;
    double end = 0;
    for (var one : all) {
      double from = one.getAsJsonArray().get(0).getAsDouble();
      double to = one.getAsJsonArray().get(1).getAsDouble();
      int value = one.getAsJsonArray().get(2).getAsInt();
      assertTrue(from >= end - 1e-9 && to >= from, from + " to " + to + " after " + end);
      end = to;
      for (; at < count && 0.02 * at < from - 1e-9; at++) {
        assertEquals(NONE, values[at], "at " + 0.02 * at);
      }
      for (; at < count && 0.02 * at < to - 1e-9; at++) {
        assertTrue(values[at] <= value, "at " + 0.02 * at);
      }
    }
  }
}
