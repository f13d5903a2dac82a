package org.solarmargin.cli.playback;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import net.jqwik.api.constraints.Size;
import org.junit.jupiter.api.Test;

/** Shares of a flight. */
class ShareTest {

  @Property(tries = 500, seed = "11")
  void percentsAddUpToAHundredAndNoneIsOffByMoreThanOne(
      @ForAll @Size(min = 1, max = 12) List<@DoubleRange(max = 4000) Double> seconds) {
    List<Share.Part> parts = new ArrayList<>();
    double total = 0;
    for (double part : seconds) {
      parts.add(new Share.Part("part " + parts.size(), part));
      total += part;
    }
    List<Share> shares = Share.of(parts);
    int sum = shares.stream().mapToInt(Share::percent).sum();
    assertEquals(total > 0 ? 100 : 0, sum);
    for (Share share : shares) {
      int i = Integer.parseInt(share.label().substring(5));
      assertTrue(Math.abs(share.percent() - 100 * seconds.get(i) / total) <= 1, share.toString());
    }
  }

  @Test
  void thirdsAddUpToTheWhole() {
    List<Share.Part> thirds =
        List.of(new Share.Part("a", 1), new Share.Part("b", 1), new Share.Part("c", 1));
    assertEquals("a 34 %, b 33 %, c 33 %", Share.text(Share.of(thirds)));
  }
}
