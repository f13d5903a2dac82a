package org.solarmargin.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Set;
import org.junit.jupiter.api.Test;

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
}
