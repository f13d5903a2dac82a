package org.solarmargin.cli.csv;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Queue;

/** Lines of a text whose quotes are unbalanced, or that are too long. */
public final class LineFaults {

  /** What is wrong with a line. */
  enum Kind {
    UNCLOSED("has a quote that is not closed", "it is read as an apostrophe"),
    MISPLACED("has text after a closing quote", "its quotes are read as apostrophes"),
    OVERLONG("is longer than " + QuoteGuard.LONGEST + " bytes", "it cannot be read");

    private final String rule;
    private final String consequence;

    Kind(String rule, String consequence) {
      this.rule = rule;
      this.consequence = consequence;
    }
  }

  private final Queue<Long> unread = new ArrayDeque<>();
  private final long[] counts = new long[Kind.values().length];
  private final long[] firsts = new long[Kind.values().length];

  LineFaults() {}

  void add(Kind kind, long line) {
    if (counts[kind.ordinal()]++ == 0) {
      firsts[kind.ordinal()] = line;
    }
    unread.add(line);
  }

  /**
   * Whether a line has such a fault. Discards the faults of earlier lines: call this in the order
   * of the lines, for each one that is read, so that only faults in the read-ahead are held.
   *
   * @param line in the file, 1 is the first
   * @return true if its quotes are unbalanced or it is too long
   */
  public boolean has(long line) {
    while (!unread.isEmpty() && unread.peek() < line) {
      unread.remove();
    }
    return !unread.isEmpty() && unread.peek() == line;
  }

  /**
   * The faults so far.
   *
   * @return a sentence without full stop for each kind of fault found
   */
  public List<String> sentences() {
    List<String> sentences = new ArrayList<>();
    for (Kind kind : Kind.values()) {
      long count = counts[kind.ordinal()];
      if (count > 0) {
        sentences.add(sentence(firsts[kind.ordinal()], count, kind.rule) + ": " + kind.consequence);
      }
    }
    return sentences;
  }

  /**
   * Describes a fault that several lines share.
   *
   * @param first number of the first such line
   * @param count number of such lines, 1 or more
   * @param rule what the first of them has or does
   * @return without full stop
   */
  public static String sentence(long first, long count, String rule) {
    String others =
        count == 1 ? "" : String.format(Locale.ROOT, " (the first of %d such lines)", count);
    return "line " + first + " " + rule + others;
  }
}
