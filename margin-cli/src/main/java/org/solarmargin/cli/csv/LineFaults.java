package org.solarmargin.cli.csv;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Queue;

/** Which lines of a text have quotes that do not pair up, or are too long. */
public final class LineFaults {

  /** What is wrong with a line. */
  enum Kind {
    UNCLOSED("has a quote that it does not close", "read as an apostrophe"),
    MISPLACED("has text behind a closing quote", "its quotes are read as apostrophes"),
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
   * Whether a line has such a fault. Forgets the lines before it: ask in the order of the lines,
   * and for each one that is read, so that no more is kept than was read ahead.
   *
   * @param line in the file, 1 is the first
   * @return true if its quotes do not pair up or it is too long
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
   * @return a sentence without full stop for each kind that there is
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
   * A fault of several lines in words.
   *
   * @param first of the lines
   * @param count how many, 1 or more
   * @param rule what the first of them has or does
   * @return without full stop
   */
  public static String sentence(long first, long count, String rule) {
    String others =
        count == 1 ? "" : String.format(Locale.ROOT, " (the first of %d such lines)", count);
    return "line " + first + " " + rule + others;
  }
}
