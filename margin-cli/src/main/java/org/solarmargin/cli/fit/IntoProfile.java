package org.solarmargin.cli.fit;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringReader;
import java.io.StringWriter;
import java.io.Writer;
import java.nio.file.Files;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Properties;
import java.util.Set;
import org.solarmargin.cli.file.AtomicFile;
import org.solarmargin.cli.file.InputFault;
import org.solarmargin.cli.file.ProfileEdit;
import org.solarmargin.cli.option.OutputFile;
import org.solarmargin.core.profile.CraftProfile;
import org.solarmargin.core.profile.PropertiesException;
import org.solarmargin.core.profile.PropertiesFile;

/**
 * Puts the lines of a fit into a profile: each in the place of the old one, comments and order
 * kept, and what they replace turned into comments. Counts of cells and strings are those of the
 * sweep, not of the craft, and stay as they are.
 */
final class IntoProfile {

  /** Lines of a fit. */
  interface Content {
    void write(Writer to) throws IOException;
  }

  /** What a fitted cell stands in place of. */
  static final Set<String> DATA_SHEET =
      Set.of("cell.isc_a", "cell.voc_v", "cell.impp_a", "cell.vmpp_v");

  private static final Set<String> OF_THE_SWEEP =
      Set.of("array.series_cells", "array.parallel_strings");

  private final OutputFile profile;
  private final PrintWriter out;

  /** Lines go into this profile; what changes is printed. */
  IntoProfile(OutputFile profile, PrintWriter out) {
    this.profile = profile;
    this.out = out;
  }

  /** Refuses a profile that is not there, before anything is fitted. */
  void require() {
    if (!Files.isRegularFile(profile.path())) {
      throw new InputFault(profile + ": no such file: margin init writes a first profile");
    }
  }

  /**
   * Changes the profile, whole or not at all.
   *
   * @param content lines of the fit
   * @param retired keys that go with them
   * @param verb for the heading of new lines
   */
  void put(Content content, Set<String> retired, String verb) throws IOException {
    StringWriter fitted = new StringWriter();
    content.write(fitted);
    Map<String, String> values = new LinkedHashMap<>();
    for (String line : fitted.toString().lines().toList()) {
      int equals = line.indexOf(" = ");
      if (!line.startsWith("#")
          && equals > 0
          && !OF_THE_SWEEP.contains(line.substring(0, equals))) {
        values.put(line.substring(0, equals), line.substring(equals + 3));
      }
    }
    String text = PropertiesFile.read(profile.path());
    Properties before = new Properties();
    before.load(new StringReader(text));
    List<String> lines = text.lines().toList();
    StringWriter changed = new StringWriter();
    ProfileEdit.write(lines, values, retired, "by margin " + verb, changed);
    try {
      CraftProfile.parse(profile.toString(), changed.toString());
    } catch (PropertiesException e) {
      throw new InputFault(
          "nothing is written, for the changed profile could not be read: " + e.getMessage());
    }
    AtomicFile.write(profile.path(), file -> file.writer().write(changed.toString()));
    out.println("Profile lines put into " + profile + ":");
    values.forEach(
        (key, value) ->
            out.println("  " + key + "  " + before.getProperty(key, "(none)") + " -> " + value));
    retired.stream()
        .filter(before::containsKey)
        .sorted()
        .forEach(key -> out.println("  " + key + "  " + before.getProperty(key) + " -> comment"));
  }
}
