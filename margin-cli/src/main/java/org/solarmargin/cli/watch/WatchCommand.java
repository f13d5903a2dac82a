package org.solarmargin.cli.watch;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.Callable;
import java.util.concurrent.atomic.AtomicBoolean;
import org.solarmargin.cli.format.Progress;
import org.solarmargin.cli.live.LinkCounts;
import org.solarmargin.cli.live.Links;
import org.solarmargin.cli.live.LiveFeed;
import org.solarmargin.cli.live.RowSource;
import org.solarmargin.cli.mavlink.MessageRows;
import org.solarmargin.cli.mavlink.PacketWriter;
import org.solarmargin.cli.mavlink.Row;
import org.solarmargin.cli.mavlink.SigningKey;
import org.solarmargin.cli.option.Address;
import org.solarmargin.cli.option.ColumnOption;
import org.solarmargin.cli.option.CraftOption;
import org.solarmargin.cli.option.Interrupt;
import org.solarmargin.cli.option.OutputFile;
import org.solarmargin.cli.playback.UnitAdvice;
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
      "Shows the margin of a craft in flight from its live telemetry.",
      "",
      "Without a reading for five usual intervals, but at least 0.5 s and at most 1 s, all outputs"
          + " show NO DATA; the alert follows the profile's rules. A problem with a link is"
          + " reported in one line after 5 s, and the watch continues when data arrive again.",
      "",
      "Advisory only, not certified. The link may fail at any moment: keep a landing option at all"
          + " times, and fly by what you see."
    },
    footerHeading = "%nExamples:%n",
    footer = {
      "  margin watch --craft stilt.properties --from udp:14550 --log flight.csv",
      "  margin watch --craft stilt.properties --from serial:/dev/ttyUSB0:57600 --bell",
      "  logger | margin watch --craft stilt.properties --from - --json"
    })
public final class WatchCommand implements Callable<Integer> {

  private static final long POLL_MILLIS = 50;
  private static final double FIRST_AFTER = 1;
  private static final int ONBOARD_COMPUTER = 191;

  @Spec private CommandSpec spec;

  @Mixin private CraftOption craft;

  @Mixin private ColumnOption columns;

  @Option(
      names = "--from",
      required = true,
      paramLabel = "SOURCE",
      description =
          "- (lines of a flight log from standard input, CSV or JSON), or MAVLink from udp:PORT"
              + " (this machine only), udp:ADDRESS:PORT or serial:DEVICE:BAUD")
  private String from;

  @Mixin private LinkOption link;

  @Option(
      names = "--key",
      paramLabel = "FILE",
      description =
          "accept only packets signed with this key (MAVLink 2), and sign those sent: 32 bytes, or"
              + " 64 hexadecimal digits")
  private Path keyFile;

  @Option(
      names = "--log",
      paramLabel = "FILE",
      description =
          "write the received data as a flight log, on disk within a second, never over an existing"
              + " file; with a profile that states the logger's timing, replaying it gives the same"
              + " estimates and alerts")
  private OutputFile log;

  @Option(
      names = "--log-per-flight",
      description =
          "begin a new log, NAME-002.csv, at each take-off after a landing and at each restart of"
              + " the craft's clock; replay starts afresh with each log, while the watch continued")
  private boolean logPerFlight;

  @Option(
      names = "--state",
      paramLabel = "FILE",
      description =
          "write the estimator's state every second, and restore it if the watch is restarted"
              + " within 60 s with the same profile")
  private OutputFile stateFile;

  @Option(
      names = "--reply",
      paramLabel = "HOST:PORT",
      description =
          "send alerts and figures as MAVLink over UDP: STATUSTEXT, NAMED_VALUE_FLOAT (NaN without"
              + " data), HEARTBEAT")
  private String reply;

  @Option(
      names = "--page",
      paramLabel = "[ADDRESS:]PORT",
      description = "serve a page for phone or tablet; without an address on this machine only")
  private String page;

  @Option(
      names = "--json",
      description =
          "print one JSON object per line, for programs: figures, and alerts as they are raised and"
              + " cleared")
  private boolean json;

  @Option(names = "--bell", description = "sound the terminal's bell on WARNING")
  private boolean bell;

  @Option(
      names = "--until-silent",
      paramLabel = "SECONDS",
      description = "exit after this time without a row (default: never)")
  private Double untilSilent;

  private final AtomicBoolean stop = new AtomicBoolean();
  private WatchDisplay display;
  private double lastThrottle = Double.NaN;

  /** A command with no options yet; picocli fills them in. */
  public WatchCommand() {}

  @Override
  public Integer call() throws IOException, InterruptedException {
    CommandLine line = spec.commandLine();
    if (untilSilent != null && !(untilSilent > 0)) {
      throw new ParameterException(line, "--until-silent must be > 0: " + untilSilent);
    }
    display = new WatchDisplay(line.getOut(), line.getErr(), json, bell, Progress.terminal());
    CraftProfile profile = craft.read();
    LogSources messages = link.of(profile.sources());
    SigningKey key = key();
    LiveFeed feed = new LiveFeed(profile);
    StateFile state = state(feed);
    Links links = new Links(messages, profile.rotors(), key);
    try (Interrupt interrupt = new Interrupt(() -> stop.set(true));
        RowSource source = open(profile, links);
        LivePage live = page(profile.name());
        Sinks sinks =
            new Sinks(
                log == null ? null : new FlightLog(log.path(), !from.equals("-")),
                logPerFlight ? new FlightSplit() : null,
                reply(messages, key),
                live,
                state,
                display::report)) {
      if (!json) {
        begin(profile, source, live, new MessageRows(messages, profile.rotors()).words());
      }
      LinkWatch health =
          new LinkWatch(source, messages, from.startsWith("serial:"), LiveFeed.now());
      watch(feed, source, profile.massKilograms(), sinks, health);
      sinks.finish();
      interrupt.done();
      return sinks.outputLost() ? CommandLine.ExitCode.SOFTWARE : CommandLine.ExitCode.OK;
    }
  }

  private void begin(CraftProfile profile, RowSource source, LivePage live, List<String> messages) {
    PrintWriter out = spec.commandLine().getOut();
    out.println("Watching " + source.description() + ", craft " + profile.name());
    if (!from.equals("-")) {
      messages.forEach(line -> out.println("  " + line));
    }
    if (!profile.settings().timing().known()) {
      out.println(
          "  The profile states no timing of the logger: it is searched for in flight, and the margin"
              + " is coarse as long as the profile does not state it. \"fit logger\" measures it from"
              + " a log.");
    }
    if (live != null) {
      out.println("Page: " + live.words());
    }
    if (Progress.terminal()) {
      out.println(
          "Below: margin (at least), throttle of its ceiling, lift left (at least), age, status.");
    }
    out.println("Advisory only, not certified. Keep a landing option at all times.");
    out.flush();
  }

  private RowSource open(CraftProfile profile, Links links) {
    try {
      UnitAdvice units = new UnitAdvice(profile.settings());
      return Sources.open(from, columns.read(spec, profile), links, units, display::report);
    } catch (IllegalArgumentException e) {
      throw new ParameterException(spec.commandLine(), e.getMessage(), e);
    }
  }

  private SigningKey key() {
    if (keyFile == null) {
      return null;
    }
    SigningKey key = SigningKey.read(keyFile);
    if (key.readableByOthers()) {
      display.report(keyFile + ": other users may read this key: run chmod 600 on it");
    }
    if (from.equals("-")) {
      throw new ParameterException(
          spec.commandLine(), "--key is for MAVLink; lines of a log have no signatures");
    }
    return key;
  }

  private StateFile state(LiveFeed feed) throws IOException {
    if (stateFile == null) {
      return null;
    }
    StateFile state = new StateFile(stateFile.path(), craft.file());
    String refused = state.resume(feed, LiveFeed.now(), System.currentTimeMillis());
    if (!refused.isEmpty()) {
      display.report(stateFile + ": not restored: " + refused + ": the estimator warms up");
    }
    return state;
  }

  private LivePage page(String craft) throws IOException {
    return page == null
        ? null
        : new LivePage(
            Address.of(
                page, "127.0.0.1", "--page must be PORT or ADDRESS:PORT", spec.commandLine()),
            craft);
  }

  private Reply reply(LogSources sources, SigningKey key) throws IOException {
    return reply == null
        ? null
        : new Reply(
            Address.of(reply, "", "--reply must be HOST:PORT", spec.commandLine()),
            new PacketWriter(Math.max(sources.system(), 1), ONBOARD_COMPUTER, key));
  }

  private void watch(
      LiveFeed feed, RowSource source, double kilograms, Sinks sinks, LinkWatch health)
      throws InterruptedException {
    double began = LiveFeed.now();
    double rowAt = began;
    LiveFeed.Resumption resumption = feed.resumption();
    while (!stop.get() && !source.ended()) {
      Row row = feed.await(source, POLL_MILLIS);
      double local = LiveFeed.now();
      if (row != null && !row.empty()) {
        rowAt = local;
        if (from.equals("-")) {
          health.taken(local);
        }
        lastThrottle = Double.isNaN(row.throttle()) ? lastThrottle : row.throttle();
      }
      if (feed.resumption() != resumption) {
        resumption = feed.resumption();
        display.report(resumed(resumption));
      }
      Figures figures = Figures.of(feed, lastThrottle, kilograms, local);
      List<LiveFeed.Alert> alerts = feed.alerts();
      alerts.forEach(display::show);
      long restarts = feed.clockRestarts() + source.counts().of(LinkCounts.Kind.CLOCK_RESTARTS);
      sinks.take(row, figures, alerts, feed.monitor(), restarts, local);
      if (row != null || local - began >= FIRST_AFTER) {
        display.show(figures, local);
      }
      display.report(health.line(local));
      if (untilSilent != null && local - rowAt > untilSilent) {
        break;
      }
    }
    display.end();
    display.report(health.end(LiveFeed.now()));
    if (source.ended()) {
      source.poll(0); // throws the fault if the source ended because of one
    }
  }

  private String resumed(LiveFeed.Resumption resumption) {
    return switch (resumption) {
      case DONE -> stateFile + ": restored: the estimator continues from the saved state";
      case TOO_OLD -> stateFile + ": not restored: it is older than 60 s: the estimator warms up";
      case REFUSED ->
          stateFile
              + ": not restored: it is damaged, of another version or of another profile:"
              + " the estimator warms up";
      default -> "";
    };
  }
}
