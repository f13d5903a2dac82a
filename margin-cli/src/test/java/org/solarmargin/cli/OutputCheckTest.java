package org.solarmargin.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.stream.Stream;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.solarmargin.cli.option.OutputFile;
import picocli.CommandLine;
import picocli.CommandLine.Model.OptionSpec;

/**
 * No output overwrites an input or another output, and each is in an existing folder, for every
 * verb and option, also through links.
 */
class OutputCheckTest {

  /**
   * A call of a verb.
   *
   * @param words verb and inputs; a word that names one of the files below stands for it
   * @param outputs its options that name outputs
   */
  record Call(String words, List<String> outputs) {
    Set<String> inputs() {
      Set<String> inputs = new HashSet<>(List.of(words.split(" ", -1)));
      inputs.retainAll(FILES);
      return inputs;
    }

    @Override
    public String toString() {
      return words;
    }
  }

  private static final List<String> FILES =
      List.of(
          "log.csv",
          "truth.csv",
          "craft.properties",
          "calm.properties",
          "recorded.properties",
          "sky.csv",
          "sweep.csv",
          "stand.csv");

  @TempDir private Path folder;

  private Map<String, String> before;

  static Stream<Call> calls() {
    return Stream.of(
        new Call(
            "replay log.csv --craft craft.properties --truth truth.csv",
            List.of("--estimates", "--alerts", "--report")),
        new Call("simulate calm.properties --craft craft.properties", List.of("--log", "--truth")),
        new Call("trial calm.properties --craft craft.properties", List.of("--out", "--report")),
        new Call("tune log.csv --craft craft.properties", List.of("--out", "--report")),
        new Call(
            "fit array sweep.csv --series 48",
            List.of("--out", "--into", "--plot", "--report", "--table")),
        new Call("fit rotor stand.csv --craft craft.properties", List.of("--out", "--into")),
        new Call(
            "outlook --craft craft.properties --at 50,10 --date 2026-06-21 --log log.csv",
            List.of("--csv", "--report", "--sheet")),
        new Call(
            "logbook log.csv --craft craft.properties --at 50,10", List.of("--csv", "--report")),
        new Call("watch --craft craft.properties --from -", List.of("--log", "--state")),
        new Call("fit logger log.csv --craft craft.properties", List.of("--out", "--into")));
  }

  @BeforeEach
  void fill() throws IOException {
    copy("flights/cloud-passage.csv", "log.csv");
    copy("stilt/stilt.properties", "craft.properties");
    copy("scenarios/calm-hover.properties", "calm.properties");
    copy("bench/array-sweep.csv", "sweep.csv");
    copy("bench/rotor-stand.csv", "stand.csv");
    Files.writeString(folder.resolve("truth.csv"), "time_s,available_w\n0,1\n");
    Files.writeString(folder.resolve("sky.csv"), "time_s,irradiance_w_m2\n0,950\n600,950\n");
    Files.writeString(
        folder.resolve("recorded.properties"),
        Files.readString(folder.resolve("calm.properties"))
            .replaceAll("(?m)^sky\\..*$", "")
            .concat("\nsky.kind = recording\nsky.file = sky.csv\n"));
    before = contents();
  }

  private void copy(String example, String to) throws IOException {
    Files.copy(Cli.EXAMPLES.resolve(example), folder.resolve(to));
  }

  private Map<String, String> contents() throws IOException {
    Map<String, String> contents = new TreeMap<>();
    try (var files = Files.walk(folder)) {
      for (Path file : files.filter(Files::isRegularFile).toList()) {
        contents.put(file.toString(), Files.readString(file));
      }
    }
    return contents;
  }

  private void assertRefused(Call call, Object... options) throws IOException {
    assertRefusedBecause("nothing is written", call, options);
  }

  private void assertRefusedBecause(String reason, Call call, Object... options)
      throws IOException {
    List<Object> words = new ArrayList<>();
    for (String word : call.words().split(" ", -1)) {
      words.add(FILES.contains(word) ? folder.resolve(word) : word);
    }
    words.addAll(List.of(options));
    Set<String> given = new HashSet<>();
    words.forEach(word -> given.add(word.toString()));
    for (String needed : call.words().startsWith("simulate") ? call.outputs() : List.<String>of()) {
      if (!given.contains(needed)) {
        words.add(needed);
        words.add(folder.resolve("other.csv"));
      }
    }
    Cli run = Cli.run(words.toArray());
    assertEquals(2, run.status, words + "\n" + run.out + run.err);
    assertEquals(1, run.err.lines().count(), run.err);
    assertTrue(run.err.contains(reason), run.err);
    assertTrue(run.err.contains(options[0].toString()), run.err);
    assertEquals("", run.out, "it is refused before the work");
    assertEquals(before, contents(), words.toString());
  }

  @ParameterizedTest
  @MethodSource("calls")
  void noOutputIsWrittenOverAnInput(Call call) throws IOException {
    Files.createDirectory(folder.resolve("sub"));
    for (String input : call.inputs()) {
      Path soft = Files.createSymbolicLink(folder.resolve("soft-" + input), Path.of(input));
      Path twice =
          Files.createSymbolicLink(
              folder.resolve("sub/twice-" + input), Path.of("../soft-" + input));
      Path hard = Files.createLink(folder.resolve("hard-" + input), folder.resolve(input));
      before = contents();
      Path around = folder.resolve("sub/../" + input);
      for (String option : call.outputs()) {
        if (option.equals("--into") && input.equals("craft.properties")) {
          continue; // the profile is changed in place
        }
        for (Path same : List.of(folder.resolve(input), soft, twice, hard, around)) {
          assertRefused(call, option, same);
        }
      }
    }
  }

  @ParameterizedTest
  @MethodSource("calls")
  void anOutputNeedsAFolderAndIsNone(Call call) throws IOException {
    Path missing = folder.resolve("missing");
    Path link = Files.createSymbolicLink(folder.resolve("link"), missing.resolve("to"));
    for (String option : call.outputs()) {
      String rule = "there is no folder " + missing + ": make it first, or name another file";
      assertRefusedBecause(rule, call, option, missing.resolve("out"));
      assertRefusedBecause(rule, call, option, link);
      assertRefusedBecause("is a folder: name a file", call, option, folder);
    }
  }

  @ParameterizedTest
  @MethodSource("calls")
  void noFileServesTwoOutputs(Call call) throws IOException {
    Path fresh = folder.resolve("new.out");
    Path old = Files.writeString(folder.resolve("old.out"), "old");
    Path toFresh = Files.createSymbolicLink(folder.resolve("to-new"), Path.of("new.out"));
    Path toOld = Files.createSymbolicLink(folder.resolve("to-old"), Path.of("old.out"));
    Path folderLink = Files.createSymbolicLink(folder.resolve("here"), Path.of("."));
    before = contents();
    for (String one : call.outputs()) {
      for (String other : call.outputs()) {
        if (!one.equals(other)) {
          assertRefused(call, one, fresh, other, fresh);
          assertRefused(call, one, old, other, toOld);
          assertRefused(call, one, toFresh, other, fresh);
          assertRefused(call, one, folderLink.resolve("new.out"), other, fresh);
        }
      }
    }
  }

  @Test
  void noOutputIsWrittenOverAScenariosRecording() throws IOException {
    Path sky = folder.resolve("sky.csv");
    Path link = Files.createSymbolicLink(folder.resolve("link.csv"), Path.of("sky.csv"));
    before = contents();
    for (Path same : List.of(sky, link)) {
      Call simulate =
          new Call(
              "simulate recorded.properties --craft craft.properties", List.of("--log", "--truth"));
      assertRefused(simulate, "--log", same);
      assertRefused(simulate, "--truth", same);
      Call trial = new Call("trial recorded.properties --craft craft.properties", List.of());
      assertRefused(trial, "--out", same);
      assertRefused(trial, "--report", same);
    }
  }

  @Test
  void noOutputIsWrittenOverAFileInAnInputFolder() throws IOException {
    String log = folder.resolve("log.csv").toString();
    Call tune = new Call("tune " + folder + " --craft craft.properties", List.of());
    assertRefused(tune, "--out", log);
    assertRefused(tune, "--report", log);
    Call truth = new Call("tune " + log + " --craft craft.properties --truth " + folder, List.of());
    assertRefused(truth, "--report", folder.resolve("truth.csv"));
    Call sweeps = new Call("fit array " + folder + " --series 48", List.of());
    assertRefused(sweeps, "--table", folder.resolve("sweep.csv"));
    assertRefused(sweeps, "--out", folder.resolve("sweep.csv"));
  }

  @Test
  void aProfileIsChangedInPlaceOnRequest() throws IOException {
    Path craft = folder.resolve("craft.properties");
    Path log = Cli.EXAMPLES.resolve("flights/gusty-hover.csv");
    Cli run = Cli.run("fit", "logger", log, "--craft", craft, "--into", craft);
    assertEquals(0, run.status, run.err);
    assertTrue(Files.readString(craft).contains("sensor.voltage_filter_s"));
  }

  @Test
  void everyOptionThatWritesIsTested() {
    Set<String> tried = new HashSet<>();
    calls()
        .forEach(
            call ->
                call.outputs()
                    .forEach(
                        o ->
                            tried.add(
                                call.words().replaceAll(" (--craft .*|[^ ]+\\.(?s).*)", "") + o)));
    Set<String> declared = new HashSet<>();
    collect(Main.verbs(""), "", declared);
    // size has no input that could be overwritten
    declared.remove("size--out");
    assertEquals(declared, tried);
  }

  private static void collect(CommandLine line, String verb, Set<String> outputs) {
    for (OptionSpec option : line.getCommandSpec().options()) {
      String words = String.join(" ", option.description()).toLowerCase(Locale.ROOT);
      boolean writes = option.type() == OutputFile.class;
      assertEquals(
          words.matches("(write|where to write|draw points|put the lines).*"),
          writes,
          verb + option.longestName() + " takes a file to write: its type is OutputFile");
      if (writes) {
        outputs.add(verb + option.longestName());
      }
    }
    line.getSubcommands()
        .forEach((name, sub) -> collect(sub, verb.isEmpty() ? name : verb + " " + name, outputs));
  }
}
