package org.solarmargin.cli.watch;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.google.gson.JsonObject;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.solarmargin.core.alert.AlertLevel;

/** Programs that read the watch's JSON see plain decimals. */
class JsonNumberTest {

  @ParameterizedTest
  @CsvSource({
    "10.120000000000001, 6, 10.12",
    "59.300000000000004, 6, 59.3",
    "3.9E-5, 3, 0.0",
    "0.0005, 3, 0.001",
    "0.000001, 6, 0.000001",
    "-0.0, 6, 0.0",
    "-1e-9, 6, 0.0",
    "100, 3, 100.0",
    "1750000000.02, 6, 1750000000.02",
    "1e15, 6, 1000000000000000.0"
  })
  void aNumberIsAPlainDecimal(double value, int decimals, String text) {
    JsonObject json = new JsonObject();
    JsonNumber.add(json, "x", value, decimals);
    assertEquals("{\"x\":" + text + "}", json.toString());
  }

  @Test
  void aNumberThatIsNotFiniteIsLeftOut() {
    JsonObject json = new JsonObject();
    JsonNumber.add(json, "x", Double.NaN, 3);
    JsonNumber.add(json, "y", Double.POSITIVE_INFINITY, 3);
    assertEquals("{}", json.toString());
  }

  @Test
  void theAgeIsInMilliseconds() {
    Figures figures =
        new Figures(
            10.120000000000001, "SHARP", 1, 1, 1, 1, 1, 1, 1, 0.5, 0.6, 3.9e-5, AlertLevel.NONE);
    String json = figures.json().toString();
    assertTrue(json.startsWith("{\"time_s\":10.12,"), json);
    assertTrue(json.endsWith("\"age_s\":0.0}"), json);
  }
}
