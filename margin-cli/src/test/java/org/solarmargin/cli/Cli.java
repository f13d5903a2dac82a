package org.solarmargin.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;

/** Runs the command in this process and captures its output. */
public final class Cli {

  /** The repository's examples. */
  public static final Path EXAMPLES = Path.of("..", "examples");

  /** The demo craft. */
  public static final Path STILT = EXAMPLES.resolve("stilt/stilt.properties");

  /** Exit status. */
  public final int status;

  /** Standard output. */
  public final String out;

  /** Standard error. */
  public final String err;

  private Cli(int status, String out, String err) {
    this.status = status;
    this.out = out;
    this.err = err;
  }

  /**
   * The demo craft with the logger's timing stated, so that no search for it is needed, which takes
   * a tenth of the time.
   *
   * @param folder folder for the profile
   * @return the profile
   */
  public static Path timed(Path folder) throws IOException {
    String stated = "sensor.voltage_filter_s = 0\nsensor.current_filter_s = 0\n";
    return Files.writeString(
        folder.resolve("timed.properties"), Files.readString(STILT) + "\n" + stated);
  }

  /**
   * Runs the command.
   *
   * @param args verb, options, files
   * @return its status and output
   */
  public static Cli run(Object... args) {
    StringWriter out = new StringWriter();
    StringWriter err = new StringWriter();
    String[] words = new String[args.length];
    for (int i = 0; i < args.length; i++) {
      words[i] = args[i].toString();
    }
    try (PrintWriter outWriter = new PrintWriter(out);
        PrintWriter errWriter = new PrintWriter(err)) {
      int status = Main.run(words, outWriter, errWriter);
      return new Cli(status, out.toString(), err.toString());
    }
  }
}
