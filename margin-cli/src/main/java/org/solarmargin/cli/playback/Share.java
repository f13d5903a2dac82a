package org.solarmargin.cli.playback;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;

/**
 * A part of the flight.
 *
 * @param words what became of it, for people
 * @param percent of the flight, whole; the parts of a flight add up to 100
 */
public record Share(String words, int percent) {

  /** A part before it is rounded. */
  record Part(String words, double seconds) {}

  /** Whole percents that add up to 100, by largest remainder; parts of 0 % are left out. */
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
        shares.add(new Share(parts.get(i).words(), percents[i]));
      }
    }
    return shares;
  }

  private static double exact(List<Part> parts, int i, double total) {
    return 100 * parts.get(i).seconds() / total;
  }

  /**
   * Shares as a list.
   *
   * @param shares in order
   * @return like "sharp 90 %, warming up 10 %"
   */
  public static String words(List<Share> shares) {
    StringBuilder text = new StringBuilder();
    for (Share share : shares) {
      text.append(text.isEmpty() ? "" : ", ");
      text.append(share.words()).append(' ').append(share.percent()).append(" %");
    }
    return text.toString();
  }
}
