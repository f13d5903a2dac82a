package org.solarmargin.examples;

import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayOutputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.regex.MatchResult;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;

class GroundStationTest {

  private static final Pattern LINE =
      Pattern.compile("[A-Z_]+ +([0-9.]+|NaN) W, at least +([0-9.]+|NaN) W, margin .* W");

  @Test
  void everyLineIsConsistentAndTheLastOneIsThatOfTheEnd() throws Exception {
    PrintStream usual = System.out;
    ByteArrayOutputStream output = new ByteArrayOutputStream();
    try {
      System.setOut(new PrintStream(output, true, StandardCharsets.UTF_8));
      GroundStation.main(new String[] {"stilt/stilt.properties", "scenarios/fast-edge.properties"});
    } finally {
      System.setOut(usual);
    }
    List<String> lines = output.toString(StandardCharsets.UTF_8).lines().toList();
    for (String line : lines) {
      List<MatchResult> found = LINE.matcher(line).results().toList();
      assertTrue(found.size() == 1, line);
      double available = Double.parseDouble(found.get(0).group(1));
      double low = Double.parseDouble(found.get(0).group(2));
      assertTrue(!(low > available), line);
    }
    String last = lines.get(lines.size() - 1);
    // after the edge of a thick cloud the craft is past the knee or on the ground
    assertTrue(last.startsWith("PAST_KNEE") || last.startsWith("IDLE"), last);
  }
}
