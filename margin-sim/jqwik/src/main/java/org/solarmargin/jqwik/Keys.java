package org.solarmargin.jqwik;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.List;
import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.Combinators;

/** Arbitraries of lines of a scenario file. */
final class Keys {

  private Keys() {}

  /**
   * A number under a key.
   *
   * @param key the scenario's key
   * @param low least value
   * @param high greatest value
   * @param mild value towards which it shrinks, within the range
   * @param decimals number of decimals
   * @return lines {@code key = value}
   */
  static Arbitrary<String> number(String key, double low, double high, double mild, int decimals) {
    return Arbitraries.bigDecimals()
        .between(rounded(low, decimals), rounded(high, decimals))
        .ofScale(decimals)
        .shrinkTowards(rounded(mild, decimals))
        .map(value -> key + " = " + value.toPlainString());
  }

  private static BigDecimal rounded(double value, int decimals) {
    return BigDecimal.valueOf(value).setScale(decimals, RoundingMode.HALF_EVEN);
  }

  /**
   * A whole number under a key.
   *
   * @param key the scenario's key
   * @param low least value
   * @param high greatest value
   * @param mild value towards which it shrinks, within the range
   * @return lines {@code key = value}
   */
  static Arbitrary<String> integer(String key, int low, int high, int mild) {
    return Arbitraries.integers()
        .between(low, high)
        .shrinkTowards(mild)
        .map(value -> key + " = " + value);
  }

  /** A fixed line. */
  static Arbitrary<String> fixed(String key, String value) {
    return Arbitraries.just(key + " = " + value);
  }

  /** A part with one line from each arbitrary. */
  static Arbitrary<ScenarioPart> part(List<Arbitrary<String>> lines) {
    return Combinators.combine(lines).as(ScenarioPart::new);
  }

  /** Parts joined in order. */
  static Arbitrary<ScenarioPart> join(List<Arbitrary<ScenarioPart>> parts) {
    return Combinators.combine(parts)
        .as(all -> all.stream().reduce(ScenarioPart.of(), ScenarioPart::and));
  }
}
