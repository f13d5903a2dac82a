package org.solarmargin.cli.tune;

import java.io.IOException;
import java.io.Writer;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import org.solarmargin.cli.format.Partial;
import org.solarmargin.core.alert.AlertLevel;
import org.solarmargin.core.alert.AlertRules;
import org.solarmargin.core.alert.LevelRule;
import org.solarmargin.core.profile.PropertiesFile;

/** Writes a craft profile with other alert rules; every other line is kept. */
final class ProfileRewrite {

  private static final String OURS = "# alert rules by margin tune, in words:";

  private ProfileRewrite() {}

  static void write(Path profile, AlertRules rules, Partial partial, Writer to) throws IOException {
    boolean ours = false;
    for (String line : PropertiesFile.read(profile).lines().toList()) {
      ours = line.equals(OURS) || (ours && line.startsWith("#"));
      if (!ours && !line.strip().startsWith("alert.")) {
        to.write(line + "\n");
      }
    }
    to.write(OURS + "\n");
    if (partial.stopped()) {
      to.write("# " + partial.line() + "\n");
    }
    for (AlertLevel level : List.of(AlertLevel.WARNING, AlertLevel.CAUTION, AlertLevel.ADVISORY)) {
      to.write("# " + rules.words(level) + "\n");
    }
    for (AlertLevel level : List.of(AlertLevel.WARNING, AlertLevel.CAUTION, AlertLevel.ADVISORY)) {
      LevelRule rule = rules.of(level);
      String key = "alert." + level.name().toLowerCase(Locale.ROOT) + "_";
      line(to, key + "margin_pct", rule.marginPercent());
      line(to, key + "time_s", rule.timeSeconds());
      line(to, key + "on_delay_s", rule.onDelaySeconds());
      line(to, key + "off_delay_s", rule.offDelaySeconds());
      line(to, key + "hysteresis_pct", rule.hysteresisPercent());
    }
    line(to, "alert.peak_memory_s", rules.peakMemorySeconds());
  }

  private static void line(Writer to, String key, double value) throws IOException {
    to.write(String.format(Locale.ROOT, "%s = %s%n", key, value).replace("\r\n", "\n"));
  }
}
