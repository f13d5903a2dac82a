package org.solarmargin.cli.playback;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;

/**
 * A share of the flight.
 *
 * @param label human-readable description
 * @param percent whole percent of the flight; the shares of a flight add up to 100
 */
public record Share(String label, int percent) {

  /** A part of the flight before rounding. */
  record Part(String label, double seconds) {}

  /**
   * Rounds to whole percents that add up to 100, by the largest-remainder method; parts of 0 % are
   * left out.
   */
  static List<Share> of(List<Part> parts) {
    double total = parts.stream().mapToDouble(Part::seconds).sum();
    if (!(total > 0)) {
      return List.of();
    }
    int[] percents = new int[parts.size()];
    List<Integer> byRemainder = new ArrayList<>();
    int left = 100;
    for (int i = 0; i < percents.length; i++) {
      percents[i] = (int) exact(parts, i, total);
      left -= percents[i];
      byRemainder.add(i);
    }
    byRemainder.sort(Comparator.comparingDouble(i -> percents[i] - exact(parts, i, total)));
    for (int i = 0; i < left; i++) {
      percents[byRemainder.get(i)]++;
    }
    List<Share> shares = new ArrayList<>();
    for (int i = 0; i < percents.length; i++) {
      if (percents[i] > 0) {
        shares.add(new Share(parts.get(i).label(), percents[i]));
      }
    }
    return shares;
  }

  private static double exact(List<Part> parts, int i, double total) {
    return 100 * parts.get(i).seconds() / total;
  }

  /**
   * Formats shares as a list.
   *
   * @param shares in order
   * @return like "sharp 90 %, warming up 10 %"
   */
  public static String text(List<Share> shares) {
    StringBuilder text = new StringBuilder();
    for (Share share : shares) {
      text.append(text.isEmpty() ? "" : ", ");
      text.append(share.label()).append(' ').append(share.percent()).append(" %");
    }
    return text.toString();
  }
}
