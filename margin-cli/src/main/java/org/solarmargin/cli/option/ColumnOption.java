package org.solarmargin.cli.option;

import java.util.ArrayList;
import java.util.List;
import org.solarmargin.cli.log.ColumnMap;
import org.solarmargin.core.profile.CraftProfile;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;

/** The option that maps a log's own column names and units. */
public final class ColumnOption {

  @Option(
      names = "--column",
      paramLabel = "NAME=HEADER[:UNIT]",
      description = {
        "name and unit of a column in the log; may be repeated. Units: time_s: s ms us ns; bus_v: V"
            + " mV cV; bus_a: A mA cA; throttle: 1 pct permille us (1000 to 2000); cell_c: C K cC;"
            + " height_m: m cm mm"
      })
  private List<String> columns = new ArrayList<>();

  /** An option, filled in by picocli. */
  public ColumnOption() {}

  /**
   * The mapping stated in the profile, changed by the option.
   *
   * @param spec the verb's specification, for the message
   * @param profile profile of the craft that wrote the log
   * @return the mapping
   * @throws ParameterException if it is invalid
   */
  public ColumnMap read(CommandSpec spec, CraftProfile profile) {
    try {
      return ColumnMap.of(profile, columns);
    } catch (IllegalArgumentException e) {
      throw new ParameterException(spec.commandLine(), e.getMessage(), e);
    }
  }
}
