package org.solarmargin.cli.option;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Locale;
import org.solarmargin.cli.file.FileLinks;
import picocli.CommandLine;
import picocli.CommandLine.Model.ArgSpec;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Model.OptionSpec;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.ParseResult;

/**
 * Refuses outputs that would overwrite an input or another output, that are folders, or whose
 * folder is missing: wrong usage, exit status 2. This is found before the work, whose results would
 * be lost otherwise.
 */
public final class OutputCheck {

  /** Option that changes a profile in place, which may be that of {@link #CRAFT}. */
  private static final String IN_PLACE = "--into";

  private static final String CRAFT = "--craft";

  /** An output that is refused; reported in one line, without how to get help. */
  public static final class Refusal extends ParameterException {
    private static final long serialVersionUID = 1L;

    Refusal(CommandLine line, String message) {
      super(line, message);
    }
  }

  private record Named(String name, Path path) {}

  private OutputCheck() {}

  /** Runs the verb unless one of its outputs is refused. */
  public static int execute(ParseResult parsed) {
    for (CommandLine line : parsed.asCommandLineList()) {
      check(line.getCommandSpec());
    }
    return new CommandLine.RunLast().execute(parsed);
  }

  private static void check(CommandSpec spec) {
    List<Named> inputs = new ArrayList<>();
    for (ArgSpec arg : spec.args()) {
      paths(arg.getValue()).forEach(path -> inputs.add(new Named(name(arg), path)));
    }
    List<Named> outputs = outputs(spec);
    for (int i = 0; i < outputs.size(); i++) {
      Named output = outputs.get(i);
      requireFolder(spec, output);
      for (Named input : inputs) {
        boolean inPlace = output.name().equals(IN_PLACE) && input.name().equals(CRAFT);
        if (!inPlace) {
          refuseOver(spec, output, input);
        }
      }
      for (Named other : outputs.subList(0, i)) {
        boolean replaced = !Files.exists(output.path()) || Files.isRegularFile(output.path());
        if (replaced && FileLinks.same(output.path(), other.path())) {
          throw fault(spec, output, "the file of " + other.name() + " too");
        }
      }
    }
  }

  private static void requireFolder(CommandSpec spec, Named output) {
    if (Files.isDirectory(output.path())) {
      throw refusal(spec, output, "is a folder: name a file");
    }
    Path folder;
    try {
      folder = FileLinks.followed(output.path()).normalize().getParent();
    } catch (IOException e) {
      return; // opening the file reports it
    }
    if (folder == null || !Files.isDirectory(folder)) {
      throw refusal(
          spec, output, "there is no folder " + folder + ": make it first, or name another file");
    }
  }

  private static Refusal refusal(CommandSpec spec, Named output, String what) {
    return new Refusal(spec.commandLine(), output.name() + " " + output.path() + ": " + what);
  }

  /**
   * Checks an input that is named inside another input.
   *
   * @param spec the verb's specification
   * @param name description of the input, for the message
   * @param input the file
   * @throws ParameterException if an output of the verb would be written over it
   */
  public static void refuseOver(CommandSpec spec, String name, Path input) {
    for (Named output : outputs(spec)) {
      refuseOver(spec, output, new Named(name, input));
    }
  }

  private static void refuseOver(CommandSpec spec, Named output, Named input) {
    if (FileLinks.same(output.path(), input.path())) {
      throw fault(spec, output, "read as " + input.name());
    }
    if (inside(output.path(), input.path())) {
      throw fault(spec, output, "one of the files that are read from " + input.path());
    }
  }

  /** Whether a file is one of those read from a folder. */
  private static boolean inside(Path file, Path folder) {
    if (!Files.isDirectory(folder) || !Files.exists(file)) {
      return false;
    }
    try (var files = Files.list(folder)) {
      return files
          .filter(one -> one.toString().toLowerCase(Locale.ROOT).endsWith(".csv"))
          .anyMatch(one -> FileLinks.same(one, file));
    } catch (IOException e) {
      return false; // the verb that reads the folder reports it
    }
  }

  private static ParameterException fault(CommandSpec spec, Named output, String what) {
    return refusal(spec, output, "is " + what + ": nothing is written: name another file");
  }

  private static List<Named> outputs(CommandSpec spec) {
    List<Named> outputs = new ArrayList<>();
    for (ArgSpec arg : spec.args()) {
      if (arg.getValue() instanceof OutputFile output) {
        outputs.add(new Named(name(arg), output.path()));
      }
    }
    return outputs;
  }

  private static List<Path> paths(Object value) {
    Collection<?> values =
        value instanceof Collection<?> several
            ? several
            : value == null ? List.of() : List.of(value);
    return values.stream().filter(Path.class::isInstance).map(Path.class::cast).toList();
  }

  private static String name(ArgSpec arg) {
    return arg instanceof OptionSpec option ? option.longestName() : arg.paramLabel();
  }
}
