package org.solarmargin.examples;

import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayOutputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import org.junit.jupiter.api.Test;

class HoldTheCeilingTest {

  @Test
  void warnsAndNeverPassesTheKnee() throws Exception {
    PrintStream usual = System.out;
    ByteArrayOutputStream output = new ByteArrayOutputStream();
    try {
      System.setOut(new PrintStream(output, true, StandardCharsets.UTF_8));
      HoldTheCeiling.main(
          new String[] {"stilt/stilt.properties", "scenarios/slow-fade.properties"});
    } finally {
      System.setOut(usual);
    }
    String text = output.toString(StandardCharsets.UTF_8);
    assertTrue(text.contains("WARNING FALLING"), text);
    assertTrue(text.contains("past the knee: 0 samples"), text);
  }
}
