package org.solarmargin.cli.log;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.List;
import org.junit.jupiter.api.Test;

/** Lines of JSON as lines of a log. */
class JsonLinesTest {

  private static String csv(String text) throws IOException {
    InputStream in = new ByteArrayInputStream(text.getBytes(StandardCharsets.UTF_8));
    try (InputStream read = JsonLines.asCsv(in, new ColumnMap(List.of()))) {
      return new String(read.readAllBytes(), StandardCharsets.UTF_8);
    }
  }

  private static final String HEADER = "time_s,bus_v,bus_a,throttle,cell_c,height_m,event\n";

  @Test
  void fieldsTakeTheirPlacesAndAbsentOnesAreEmpty() throws IOException {
    assertEquals(
        HEADER + "1.5,29.5,2.8,0.5,,,\"a, \"\"b\"\"\"\n2,,,,,,\n",
        csv(
            " \t\r\n{\"event\":\"a, \\\"b\\\"\",\"throttle\":0.5,\"bus_a\":2.8,\"bus_v\":29.5,"
                + "\"time_s\":1.5,\"other\":{}}\n\n  \n{\"time_s\":2,\"bus_v\":null}"));
  }

  @Test
  void whatIsNoValueIsShownAndNotRead() throws IOException {
    assertEquals(
        HEADER + "1,\"[1,2]\",\"{\"\"x\"\":3}\",,,,\n",
        csv("{\"time_s\":1,\"bus_v\":[1,2],\"bus_a\":{\"x\":3}}\n"));
    assertEquals(
        HEADER
            + "1,,,,,,\n\"not a JSON object: [1,2]\",,,,,,\n\"not a JSON object: {\"\"bus\",,,,,,\n",
        csv("{\"time_s\":1}\n[1,2]\n{\"bus\n"));
  }

  @Test
  void aLineWithoutEndIsCutShort() throws IOException {
    String[] lines =
        csv("{\"time_s\":1}\n{\"x\":\"" + "9".repeat(1_000_000) + "\"}\n{\"time_s\":2}\n")
            .split("\n", -1);
    assertEquals(5, lines.length, "the last line is ended, too");
    assertTrue(lines[2].startsWith("\"not a JSON object: {\"\"x\"\":\"\"999"), lines[2]);
    assertTrue(lines[2].length() < 120, "shown in short: " + lines[2].length());
    assertEquals("2,,,,,,", lines[3]);
  }

  @Test
  void whatDoesNotBeginAsAnObjectIsLeftAsItIs() throws IOException {
    assertEquals("time_s,bus_v\n1,2\n", csv("time_s,bus_v\n1,2\n"));
    assertEquals("", csv(""));
    assertEquals("", csv(" \n\t"));
  }
}
