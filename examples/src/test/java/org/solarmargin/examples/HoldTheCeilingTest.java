package org.solarmargin.examples;

import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayOutputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.solarmargin.sim.flight.LossOfLift;

class HoldTheCeilingTest {

  private static final Pattern PAST = Pattern.compile("past the knee: ([0-9.]+) s");

  @ParameterizedTest
  @ValueSource(ints = {1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12})
  void warnsAndDoesNotLoseLift(int flight) throws Exception {
    PrintStream usual = System.out;
    ByteArrayOutputStream output = new ByteArrayOutputStream();
    try {
      System.setOut(new PrintStream(output, true, StandardCharsets.UTF_8));
      HoldTheCeiling.main(
          new String[] {
            "stilt/stilt.properties", "scenarios/slow-fade.properties", Integer.toString(flight)
          });
    } finally {
      System.setOut(usual);
    }
    String text = output.toString(StandardCharsets.UTF_8);
    assertTrue(text.contains("WARNING"), text);
    Matcher past = PAST.matcher(text);
    assertTrue(past.find(), text);
    assertTrue(Double.parseDouble(past.group(1)) < LossOfLift.SECONDS, text);
  }
}
