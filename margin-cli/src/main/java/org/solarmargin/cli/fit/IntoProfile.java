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
 * Puts the lines of a fit into a profile: existing keys in place, with comments and order kept.
 * Keys that the fit makes obsolete become comments. The counts of cells and strings describe the
 * sweep rather than the craft and are left unchanged.
 */
final class IntoProfile {

  /** Lines of a fit. */
  interface Content {
    void write(Writer to) throws IOException;
  }

  /** Keys that a fitted cell replaces. */
  static final Set<String> DATA_SHEET =
      Set.of("cell.isc_a", "cell.voc_v", "cell.impp_a", "cell.vmpp_v");

  private static final Set<String> OF_THE_SWEEP =
      Set.of("array.series_cells", "array.parallel_strings");

  private final OutputFile profile;
  private final PrintWriter out;

  /** Creates the step for one profile; the changes are printed. */
  IntoProfile(OutputFile profile, PrintWriter out) {
    this.profile = profile;
    this.out = out;
  }

  /** Refuses a missing profile before anything is fitted. */
  void require() {
    if (!Files.isRegularFile(profile.path())) {
      throw new InputFault(profile + ": no such file: write a first profile with margin init");
    }
  }

  /**
   * Changes the profile completely or not at all.
   *
   * @param content lines of the fit
   * @param retired keys that these lines make obsolete
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
          "nothing is written, because the changed profile would be invalid: "
              + String.join("; ", e.faults()));
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
