package org.solarmargin.core.profile;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class PlainNumberTest {

  @ParameterizedTest
  @ValueSource(
      strings = {"29d", "3f", "29D", "3F", "0x1p3", "0X1P3", "-0x10p0", "1e3d", "", "d", "1,5"})
  void otherNumbersAreRefused(String text) {
    assertThrows(NumberFormatException.class, () -> PlainNumber.parse(text));
    PropertiesException fault =
        assertThrows(
            PropertiesException.class,
            () -> {
              StrictProperties in = new StrictProperties("p", "key = " + text);
              in.number("key", -1e9, 1e9);
              in.finish();
            });
    assertEquals(
        List.of("p line 1: key must be a number with '.' as decimal mark: " + text),
        fault.faults());
  }

  @ParameterizedTest
  @ValueSource(strings = {"29", " 3.5 ", "-1e-3", "+.5", "5.", "1E3"})
  void plainNumbersAreRead(String text) {
    assertEquals(Double.parseDouble(text), PlainNumber.parse(text));
  }

  @ParameterizedTest
  @ValueSource(strings = {"Infinity", "-Infinity", "NaN", "1e999"})
  void nonFiniteValuesAreLeftToTheCaller(String text) {
    assertTrue(!Double.isFinite(PlainNumber.parse(text)));
  }
}
