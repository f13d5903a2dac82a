package org.solarmargin.cli.log;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.solarmargin.cli.file.InputFault;

/**
 * A truth file has numbers, one line for each line of its log; anything else is reported with its
 * line.
 */
class TruthReaderTest {

  @TempDir private Path folder;

  private TruthReader open(String text) throws IOException {
    Path file = Files.writeString(folder.resolve("truth.csv"), text);
    return new TruthReader(file, List.of("available_w"));
  }

  @Test
  void valuesAreReadByName() throws IOException {
    try (TruthReader truth = open("time_s,available_w\n0,117.5\n# a comment\n1,\n")) {
      truth.next();
      assertEquals(117.5, truth.value(0));
      truth.next();
      assertTrue(Double.isNaN(truth.value(0)));
    }
  }

  @ParameterizedTest
  @CsvSource(
      quoteCharacter = '`',
      value = {
        "`1,\"5`, `line 3: a line must consist of numbers, as written by simulate: 1`",
        "`1,\"5\" W`, `line 3: a line must consist of numbers, as written by simulate: 1`",
        "`\"1\n2\",5`, `line 3: a line must consist of numbers, as written by simulate: '1`",
        "`1,five`, `line 3: must be a number or empty: five`",
        "`1`, `line 3: a line must have at least 2 fields: 1`",
        "``, `shorter than its log`"
      })
  void anInvalidLineIsReported(String line, String words) throws IOException {
    try (TruthReader truth = open("time_s,available_w\n0,1\n" + line + "\n")) {
      truth.next();
      InputFault fault =
          assertThrows(
              InputFault.class,
              () -> {
                truth.next();
                truth.value(0);
              });
      assertTrue(fault.getMessage().contains("truth.csv"), fault.getMessage());
      assertTrue(fault.getMessage().contains(words), fault.getMessage());
    }
  }

  @Test
  void aMissingHeaderOrColumnIsReported() {
    assertTrue(
        assertThrows(InputFault.class, () -> open("")).getMessage().contains("needs a header"));
    assertTrue(
        assertThrows(InputFault.class, () -> open("time_s,watts\n0,1\n"))
            .getMessage()
            .contains("no column available_w"));
  }
}
