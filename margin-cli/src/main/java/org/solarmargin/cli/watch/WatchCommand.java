package org.solarmargin.cli.watch;

import java.io.IOException;
import java.io.PrintWriter;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.Callable;
import java.util.concurrent.atomic.AtomicBoolean;
import org.solarmargin.cli.ColumnOption;
import org.solarmargin.cli.CraftOption;
import org.solarmargin.cli.Interrupt;
import org.solarmargin.cli.OutputFile;
import org.solarmargin.cli.mavlink.MessageRows;
import org.solarmargin.cli.mavlink.Row;
import org.solarmargin.cli.text.Progress;
import org.solarmargin.core.alert.AlertLevel;
import org.solarmargin.core.profile.CraftProfile;
import org.solarmargin.core.profile.LogSources;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Spec;

/** {@code margin watch}. */
@Command(
    name = "watch",
    mixinStandardHelpOptions = true,
    description = {
      "Shows the margin of a craft in flight, from its telemetry as it comes.",
      "",
      "Advisory only, not certified. A link fails when it matters: keep a landing option at all times,"
          + " and fly by what you see."
    },
    footerHeading = "%nExamples:%n",
    footer = {
      "  margin watch --craft stilt.properties --from udp:14550 --log flight.csv",
      "  margin watch --craft stilt.properties --from serial:/dev/ttyUSB0:57600 --bell",
      "  logger | margin watch --craft stilt.properties --from - --json"
    })
public final class WatchCommand implements Callable<Integer> {

  private static final double NANOS = 1e-9;
  private static final long POLL_MILLIS = 50;
  private static final double SILENT_EVERY = 0.25;
  private static final double SHOWN_EVERY = 0.2;
  private static final double PLAIN_EVERY = 1;
  private static final int ONBOARD_COMPUTER = 191;

  @Spec private CommandSpec spec;

  @Mixin private CraftOption craft;

  @Mixin private ColumnOption columns;

  @Option(
      names = "--from",
      required = true,
      paramLabel = "SOURCE",
      description =
          "- (lines of a flight log as they come), or MAVLink from udp:PORT (this machine only),"
              + " udp:ADDRESS:PORT or serial:DEVICE:BAUD")
  private String from;

  @Mixin private LinkOption link;

  @Option(
      names = "--log",
      paramLabel = "FILE",
      description = "write what was seen as a flight log, never over a file that is there")
  private OutputFile log;

  @Option(
      names = "--reply",
      paramLabel = "HOST:PORT",
      description =
          "send alerts and figures as MAVLink over UDP: STATUSTEXT, NAMED_VALUE_FLOAT, HEARTBEAT")
  private String reply;

  @Option(
      names = "--page",
      paramLabel = "[ADDRESS:]PORT",
      description = "show a page for phone or tablet; on this machine only without an address")
  private String page;

  @Option(names = "--json", description = "one JSON object a line, for programs")
  private boolean json;

  @Option(names = "--bell", description = "sound the terminal's bell on WARNING")
  private boolean bell;

  @Option(
      names = "--until-silent",
      paramLabel = "SECONDS",
      description = "leave after so long without a row (default: never)")
  private Double untilSilent;

  private final AtomicBoolean stop = new AtomicBoolean();
  private boolean terminal;
  private double shown = Double.NEGATIVE_INFINITY;
  private double lastThrottle = Double.NaN;

  /** A command with no options yet; picocli fills them in. */
  public WatchCommand() {}

  @Override
  public Integer call() throws IOException, InterruptedException {
    CraftProfile profile = craft.read();
    LogSources sources = link.of(profile.sources());
    MessageRows rows = new MessageRows(sources, profile.rotors());
    terminal = Progress.terminal() && !json;
    PrintWriter out = spec.commandLine().getOut();
    try (Interrupt interrupt = new Interrupt(() -> stop.set(true));
        RowSource source = open(new Sources(columns.read(spec, profile), rows, sources));
        FlightLog file = log == null ? null : new FlightLog(log.path());
        Reply back = reply(sources);
        LivePage live = page(profile.name())) {
      if (!json) {
        out.println("Watching " + source.words() + ", craft " + profile.name());
        if (!from.equals("-")) {
          rows.words().forEach(line -> out.println("  " + line));
        }
        if (live != null) {
          out.println(
              "Page on port "
                  + live.port()
                  + (page.indexOf(':') < 0 ? "" : ", OPEN TO THE NETWORK"));
        }
        out.println("Advisory only, not certified. Keep a landing option at all times.");
        out.flush();
      }
      Sinks sinks = new Sinks(file, spec.commandLine().getErr(), back, live);
      watch(new LiveFeed(profile), source, profile.massKilograms(), sinks, out);
      sinks.finish();
      interrupt.done();
      out.flush();
      return sinks.logLost() ? CommandLine.ExitCode.SOFTWARE : CommandLine.ExitCode.OK;
    }
  }

  private RowSource open(Sources sources) {
    try {
      return sources.open(from);
    } catch (IllegalArgumentException e) {
      throw new ParameterException(spec.commandLine(), e.getMessage(), e);
    }
  }

  private LivePage page(String craft) throws IOException {
    if (page == null) {
      return null;
    }
    int colon = page.lastIndexOf(':');
    try {
      int port = Integer.parseInt(page.substring(colon + 1));
      return new LivePage(colon < 0 ? "127.0.0.1" : page.substring(0, colon), port, craft);
    } catch (NumberFormatException e) {
      throw new ParameterException(
          spec.commandLine(), "--page must be PORT or ADDRESS:PORT: " + page, e);
    }
  }

  private Reply reply(LogSources sources) throws IOException {
    if (reply == null) {
      return null;
    }
    int colon = reply.lastIndexOf(':');
    try {
      int port = Integer.parseInt(reply.substring(colon + 1));
      return new Reply(
          reply.substring(0, colon), port, Math.max(sources.system(), 1), ONBOARD_COMPUTER);
    } catch (NumberFormatException | IndexOutOfBoundsException e) {
      throw new ParameterException(spec.commandLine(), "--reply must be HOST:PORT: " + reply, e);
    }
  }

  private void watch(
      LiveFeed feed, RowSource source, double kilograms, Sinks sinks, PrintWriter out)
      throws IOException, InterruptedException {
    double rowAt = now();
    double silentAt = rowAt;
    while (!stop.get() && !(source.ended() && source.poll(0) == null)) {
      Row row = source.poll(POLL_MILLIS);
      double local = now();
      Row taken = null;
      if (row != null) {
        rowAt = local;
        silentAt = local;
        lastThrottle = Double.isNaN(row.throttle()) ? lastThrottle : row.throttle();
        taken = feed.take(row, local);
      } else if (local - silentAt >= SILENT_EVERY) {
        silentAt = local;
        taken = feed.silent(local);
      }
      double seconds = taken == null ? Double.NaN : taken.nanos() * NANOS;
      Figures figures = Figures.of(feed, seconds, lastThrottle, kilograms, local);
      List<LiveFeed.Alert> alerts = feed.alerts();
      for (LiveFeed.Alert alert : alerts) {
        show(alert, out);
      }
      if (taken != null) {
        sinks.take(taken, figures, alerts, local);
        show(figures, local, out);
      }
      if (untilSilent != null && local - rowAt > untilSilent) {
        break;
      }
    }
    if (terminal) {
      out.println();
    }
  }

  private static double now() {
    return System.nanoTime() * NANOS;
  }

  private void show(LiveFeed.Alert alert, PrintWriter out) {
    if (json) {
      return;
    }
    out.println(
        String.format(
            Locale.ROOT,
            "%s%8.1f s  %s %s: %s",
            terminal ? "\r" + " ".repeat(79) + "\r" : "",
            alert.seconds(),
            alert.raised() ? ">>>" : "   ",
            alert.level() + (alert.raised() ? "" : " cleared"),
            alert.reason().words()));
    if (bell && alert.raised() && alert.level() == AlertLevel.WARNING) {
      out.print('\u0007');
    }
    out.flush();
  }

  private void show(Figures figures, double local, PrintWriter out) {
    if (local - shown < (terminal || json ? SHOWN_EVERY : PLAIN_EVERY)) {
      return;
    }
    shown = local;
    if (json) {
      out.println(figures.json());
    } else if (terminal) {
      String line = figures.line();
      out.print("\r" + line + " ".repeat(Math.max(0, 79 - line.length())));
    } else {
      out.println(figures.line());
    }
    out.flush();
  }
}
