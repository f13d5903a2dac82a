package org.solarmargin.cli.file;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.IOException;
import java.io.StringWriter;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;

class ProfileEditTest {

  private static String edited(List<String> lines, Map<String, String> values) throws IOException {
    StringWriter out = new StringWriter();
    ProfileEdit.write(lines, values, "by a test", out);
    return out.toString();
  }

  @Test
  void valuesAreReplacedInPlaceAndNewOnesAddedUnderAHeading() throws IOException {
    Map<String, String> values = new LinkedHashMap<>();
    values.put("b.two", "22");
    values.put("c.three", "33");
    assertEquals(
        "# top\na.one=1\nb.two = 22\n\n! b.two: a comment\n# by a test\nc.three = 33\n",
        edited(List.of("# top", "a.one=1", "  b.two : 2", "", "! b.two: a comment"), values));
  }

  @Test
  void aContinuedLineIsReplacedAsAWholeAndADuplicateKeyOnce() throws IOException {
    assertEquals(
        "a = 9\nb = \\\n  a = 3\n",
        edited(List.of("a = 1,\\", "  2", "b = \\", "  a = 3", "a = 7"), Map.of("a", "9")));
  }
}
