package org.solarmargin.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Set;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** One verb is made for itself, all of them where they are listed. */
class MainTest {

  @Test
  void theVerbThatIsAskedForIsMadeAlone() {
    Set<String> all = Main.verbs("").getSubcommands().keySet();
    for (String name : all) {
      Set<String> made = Main.verbs(name).getSubcommands().keySet();
      assertEquals(name.equals("help") ? all : Set.of(name), made);
    }
    assertTrue(all.containsAll(Set.of("replay", "watch", "logbook", "help")), all.toString());
  }

  @Test
  void helpAndUnknownVerbsKnowAllOfThem() {
    for (String[] args : new String[][] {{}, {"--help"}, {"help"}, {"wotch"}}) {
      Cli run = Cli.run((Object[]) args);
      assertTrue((run.out + run.err).contains("watch"), run.out + run.err);
    }
    assertTrue(Cli.run("help", "watch").out.contains("--from"));
    assertTrue(Cli.run("watch", "--help").out.startsWith("Usage: margin watch"));
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "replay l.csv --craft c --fail-on SEVERE | --fail-on must be | margin replay --help",
        "outlook --craft c --at 1,2 --date 21.06.2026 | 21.06.2026 | margin outlook --help",
        "replay l.csv | --craft | margin replay --help",
        "fit | name what to fit | margin fit --help",
        "fit array s.csv --series x | --series | margin fit array --help",
        "help nothing | nothing | margin --help"
      })
  void wrongUsageIsOneLineAndHowToGetHelp(String words, String message, String help) {
    Object[] args =
        Stream.of(words.split(" ", -1)).map(w -> w.equals("c") ? Cli.STILT : w).toArray();
    Cli run = Cli.run(args);
    assertEquals(2, run.status, run.err);
    List<String> lines = run.err.lines().toList();
    assertEquals(2, lines.size(), run.err);
    assertTrue(lines.get(0).contains(message), run.err);
    assertEquals("Help: " + help, lines.get(1));
    assertEquals("", run.out);
  }

  @Test
  void aSimilarNameIsSuggested() {
    List<String> lines = Cli.run("check", Cli.STILT, "--colunm", "a=b").err.lines().toList();
    assertEquals(3, lines.size(), lines.toString());
    assertTrue(lines.get(1).contains("--column"), lines.toString());
  }
}
