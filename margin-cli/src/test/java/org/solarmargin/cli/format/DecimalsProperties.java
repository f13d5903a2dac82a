package org.solarmargin.cli.format;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.math.BigDecimal;
import java.math.RoundingMode;
import net.jqwik.api.Example;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import net.jqwik.api.constraints.IntRange;
import net.jqwik.api.constraints.Scale;

class DecimalsProperties {

  private static String text(double value, int decimals) {
    StringBuilder to = new StringBuilder();
    Decimals.append(to, value, decimals);
    return to.toString();
  }

  @Property(tries = 2000, seed = "41")
  void isWithinHalfAUnitOfTheLastPlace(
      @ForAll @Scale(9) @DoubleRange(min = -1e6, max = 1e6) double value,
      @ForAll @IntRange(min = 0, max = 6) int decimals) {
    BigDecimal error = new BigDecimal(text(value, decimals)).subtract(new BigDecimal(value)).abs();
    BigDecimal half = BigDecimal.valueOf(5, decimals + 1);
    assertEquals(
        true, error.compareTo(half.add(new BigDecimal("1e-9"))) <= 0, text(value, decimals));
    assertEquals(
        decimals,
        new BigDecimal(text(value, decimals)).setScale(decimals, RoundingMode.UNNECESSARY).scale());
  }

  @Example
  void unknownIsEmptyAndZeroHasNoSign() {
    assertEquals("", text(Double.NaN, 3));
    assertEquals("", text(Double.POSITIVE_INFINITY, 3));
    assertEquals("0.000", text(-0.0001, 3));
    assertEquals("-0.05", text(-0.05, 2));
  }
}
