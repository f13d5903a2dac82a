package org.solarmargin.cli.init;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.PrintWriter;
import java.util.ArrayList;
import java.util.List;

/**
 * Asks at a terminal for values that were not given; otherwise uses defaults and records what is
 * missing.
 */
final class Questions {

  private final boolean terminal;
  private final BufferedReader in;
  private final PrintWriter out;
  private final List<String> missing = new ArrayList<>();

  Questions(boolean terminal, BufferedReader in, PrintWriter out) {
    this.terminal = terminal;
    this.in = in;
    this.out = out;
  }

  /**
   * Obtains a value.
   *
   * @param given value of the option; null if it was not given
   * @param usual default; null if there is none
   * @param option name of the option
   * @param words text of the question
   * @return the value; empty if it is missing
   */
  String ask(String given, String usual, String option, String words) throws IOException {
    if (given != null) {
      return given.strip();
    }
    while (terminal) {
      out.print(words + (usual == null ? ": " : " [" + usual + "]: "));
      out.flush();
      String answer = in.readLine();
      if (answer == null) {
        break;
      }
      if (!answer.isBlank()) {
        return answer.strip();
      }
      if (usual != null) {
        return usual;
      }
    }
    if (usual == null) {
      missing.add(option);
      return "";
    }
    return usual;
  }

  List<String> missing() {
    return missing;
  }
}
