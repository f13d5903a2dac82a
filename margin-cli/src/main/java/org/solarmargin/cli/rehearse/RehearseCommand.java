package org.solarmargin.cli.rehearse;

import java.io.IOException;
import java.io.PrintWriter;
import java.net.DatagramPacket;
import java.net.DatagramSocket;
import java.net.InetSocketAddress;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.Callable;
import java.util.concurrent.atomic.AtomicBoolean;
import org.solarmargin.cli.mavlink.SigningKey;
import org.solarmargin.cli.option.Address;
import org.solarmargin.cli.option.CraftOption;
import org.solarmargin.cli.option.Inputs;
import org.solarmargin.cli.option.Interrupt;
import org.solarmargin.core.profile.CraftProfile;
import org.solarmargin.core.profile.PlainNumber;
import org.solarmargin.sim.flight.Flight;
import org.solarmargin.sim.scenario.Scenario;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** {@code margin rehearse}. */
@Command(
    name = "rehearse",
    mixinStandardHelpOptions = true,
    description = {
      "Flies a scenario in the simulator and sends it as MAVLink telemetry, so that alerts can be"
          + " practised at the ground station before a flight.",
      "",
      "Simulated: model prediction only, advisory and not certified."
    },
    footerHeading = "%nExample:%n",
    footer = {
      "  margin rehearse slow-fade.properties --craft stilt.properties \\",
      "      --to udp:127.0.0.1:14550"
    })
public final class RehearseCommand implements Callable<Integer> {

  /** Longest delay of a packet, s: a day, the longest flight. */
  private static final int MOST_SECONDS = 86_400;

  /** Fastest flight, times real time. */
  private static final int MOST_SPEED = 1000;

  @Spec private CommandSpec spec;

  @Parameters(paramLabel = "SCENARIO", description = "scenario, .properties")
  private Path scenarioFile;

  @Mixin private CraftOption craft;

  @Option(
      names = "--to",
      required = true,
      paramLabel = "udp:HOST:PORT",
      description = "destination of the packets")
  private String to;

  @Option(
      names = "--speed",
      defaultValue = "1",
      paramLabel = "N",
      description = "multiple of real time; 0 for as fast as possible (default: ${DEFAULT-VALUE})")
  private double speed;

  @Option(
      names = "--seed",
      defaultValue = "1",
      paramLabel = "N",
      description = "seed of all randomness (default: ${DEFAULT-VALUE})")
  private long seed;

  @Option(
      names = "--loss",
      defaultValue = "0",
      paramLabel = "PCT",
      description = "packets lost, percent (default: ${DEFAULT-VALUE})")
  private double loss;

  @Option(
      names = "--duplicate",
      defaultValue = "0",
      paramLabel = "PCT",
      description = "packets duplicated, percent (default: ${DEFAULT-VALUE})")
  private double duplicate;

  @Option(
      names = "--reorder",
      defaultValue = "0",
      paramLabel = "SECONDS",
      description = "largest random delay of a packet, s (default: ${DEFAULT-VALUE})")
  private double reorder;

  @Option(
      names = "--outage",
      paramLabel = "START:SECONDS",
      description = "outage of SECONDS from START, s in the flight; may be repeated")
  private List<String> outages = List.of();

  @Option(
      names = "--key",
      paramLabel = "FILE",
      description = "sign the packets with this key: 32 bytes, or 64 hexadecimal digits")
  private Path keyFile;

  /** A command with no options yet; picocli fills them in. */
  public RehearseCommand() {}

  @Override
  public Integer call() throws IOException {
    CraftProfile profile = craft.read();
    Scenario scenario = Inputs.scenario(scenarioFile, profile);
    Flight flight = new Flight(Inputs.maker(scenarioFile, scenario, profile).asStated(seed), seed);
    SigningKey key = keyFile == null ? null : SigningKey.read(keyFile);
    within("--speed", speed, MOST_SPEED, "times real time");
    AtomicBoolean stop = new AtomicBoolean();
    PrintWriter out = spec.commandLine().getOut();
    try (DatagramSocket socket = new DatagramSocket();
        Interrupt interrupt = new Interrupt(() -> stop.set(true))) {
      InetSocketAddress target = target();
      FlakyLink link =
          new FlakyLink(
              bytes -> socket.send(new DatagramPacket(bytes, bytes.length, target)),
              faults(),
              seed);
      Telemetry telemetry = new Telemetry(link, profile.rotors(), key);
      Pace pace = new Pace(speed);
      out.println(
          String.format(
              Locale.ROOT, "%s: %.0f s to %s", scenario.title(), scenario.plan().seconds(), to));
      out.flush();
      flight.fly(
          sample -> {
            if (!stop.get() && !sample.missing) {
              pace.waitFor(sample.seconds);
              telemetry.send(sample);
            }
            return 1;
          });
      link.flush();
      out.println(telemetry.count() + " packets generated, " + link.sent() + " sent");
      interrupt.done();
    }
    out.flush();
    return CommandLine.ExitCode.OK;
  }

  private InetSocketAddress target() {
    String rule = "--to must be udp:HOST:PORT";
    if (!to.startsWith("udp:")) {
      throw new ParameterException(spec.commandLine(), rule + ": " + to);
    }
    return Address.of(to.substring(4), "", rule, spec.commandLine());
  }

  private FlakyLink.Faults faults() {
    within("--loss", loss, 100, "percent");
    within("--duplicate", duplicate, 100, "percent");
    within("--reorder", reorder, MOST_SECONDS, "s");
    return new FlakyLink.Faults(
        loss / 100, duplicate / 100, reorder, outages.stream().map(this::outage).toList());
  }

  private void within(String option, double value, int most, String unit) {
    if (!(value >= 0 && value <= most)) {
      throw new ParameterException(
          spec.commandLine(), option + " must be in [0, " + most + "] " + unit + ": " + value);
    }
  }

  private FlakyLink.Outage outage(String text) {
    String[] parts = text.split(":", -1);
    try {
      double start = PlainNumber.parse(parts[0]);
      double seconds = parts.length == 2 ? PlainNumber.parse(parts[1]) : Double.NaN;
      if (start >= 0 && seconds >= 0) {
        return new FlakyLink.Outage(start, seconds);
      }
    } catch (NumberFormatException e) {
      // named below
    }
    throw new ParameterException(spec.commandLine(), "--outage must be START:SECONDS: " + text);
  }
}
