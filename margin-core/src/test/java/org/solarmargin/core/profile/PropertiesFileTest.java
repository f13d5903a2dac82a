package org.solarmargin.core.profile;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What is read from a file, and what is said of one that is none. */
class PropertiesFileTest {

  @TempDir private Path folder;

  private static List<String> faults(Path file) {
    return assertThrows(PropertiesException.class, () -> PropertiesFile.read(file)).faults();
  }

  @Test
  void aFileOf64KibibytesIsRead() throws IOException {
    Path file = Files.writeString(folder.resolve("a"), "#".repeat(65_536));
    assertEquals("#".repeat(65_536), PropertiesFile.read(file));
    new StrictProperties("a", PropertiesFile.read(file)).finish();
    Path longer = Files.writeString(folder.resolve("b"), "#".repeat(65_537));
    assertEquals(
        List.of(longer + ": is longer than 65536 bytes: no .properties file of this kind"),
        faults(longer));
    assertEquals(
        List.of("b: is longer than 65536 characters"),
        assertThrows(PropertiesException.class, () -> new StrictProperties("b", "#".repeat(65_537)))
            .faults());
  }

  @Test
  void aFolderAndOtherBytesAreNamed() throws IOException {
    assertTrue(faults(folder).get(0).endsWith("is a folder: name the .properties file"));
    Path latin = Files.write(folder.resolve("c"), new byte[] {'a', '=', (byte) 0xe4});
    assertEquals(List.of(latin + ": not UTF-8 text: save it as UTF-8"), faults(latin));
  }

  @Test
  void aByteOrderMarkIsNoPartOfTheFirstKey() throws IOException {
    Path file = Files.writeString(folder.resolve("d"), "\ufeffa = 1\n");
    assertEquals("a = 1\n", PropertiesFile.read(file));
  }

  @Test
  void longFaultsAreCutAndControlCharactersReplaced() {
    PropertiesException thousand = new PropertiesException(List.of("x".repeat(1000)));
    assertEquals("x".repeat(1000), thousand.getMessage());
    PropertiesException more = new PropertiesException(List.of("x".repeat(1001), "a\u001bb"));
    assertEquals(List.of("x".repeat(1000) + "...", "a?b"), more.faults());
    assertEquals("x".repeat(1000) + "...\na?b", more.getMessage());
  }
}
