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
      "Flies a scenario and sends it as MAVLink telemetry, so that alerts can be rehearsed at the"
          + " ground station the evening before.",
      "",
      "Simulated: a model's word, advisory and not certified."
    },
    footerHeading = "%nExample:%n",
    footer = {
      "  margin rehearse slow-fade.properties --craft stilt.properties \\",
      "      --to udp:127.0.0.1:14550"
    })
public final class RehearseCommand implements Callable<Integer> {

  @Spec private CommandSpec spec;

  @Parameters(paramLabel = "SCENARIO", description = "scenario, .properties")
  private Path scenarioFile;

  @Mixin private CraftOption craft;

  @Option(
      names = "--to",
      required = true,
      paramLabel = "udp:HOST:PORT",
      description = "where the packets go")
  private String to;

  @Option(
      names = "--speed",
      defaultValue = "1",
      paramLabel = "N",
      description = "times real time; 0 for flat out (default: ${DEFAULT-VALUE})")
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
      description = "packets that are lost, percent (default: ${DEFAULT-VALUE})")
  private double loss;

  @Option(
      names = "--duplicate",
      defaultValue = "0",
      paramLabel = "PCT",
      description = "packets that come twice, percent (default: ${DEFAULT-VALUE})")
  private double duplicate;

  @Option(
      names = "--reorder",
      defaultValue = "0",
      paramLabel = "SECONDS",
      description = "packets come late by up to so much (default: ${DEFAULT-VALUE})")
  private double reorder;

  @Option(
      names = "--outage",
      paramLabel = "START:SECONDS",
      description =
          "nothing comes through from START on, s in the flight; may be given several times")
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
      out.println(telemetry.count() + " packets made, " + link.sent() + " sent");
      interrupt.done();
    }
    out.flush();
    return CommandLine.ExitCode.OK;
  }

  private InetSocketAddress target() {
    String rule = "--to must be udp:HOST:PORT";
    require(to.startsWith("udp:"), rule, to);
    return Address.of(to.substring(4), "", rule, spec.commandLine());
  }

  private void require(boolean kept, String rule, Object value) {
    if (!kept) {
      throw new ParameterException(spec.commandLine(), rule + ": " + value);
    }
  }

  private FlakyLink.Faults faults() {
    require(loss >= 0 && loss <= 100, "--loss must be 0 to 100", loss);
    require(duplicate >= 0 && duplicate <= 100, "--duplicate must be 0 to 100", duplicate);
    require(reorder >= 0, "--reorder must be >= 0", reorder);
    require(speed >= 0, "--speed must be >= 0", speed);
    return new FlakyLink.Faults(
        loss / 100, duplicate / 100, reorder, outages.stream().map(this::outage).toList());
  }

  private FlakyLink.Outage outage(String text) {
    String[] parts = text.split(":", -1);
    try {
      return new FlakyLink.Outage(PlainNumber.parse(parts[0]), PlainNumber.parse(parts[1]));
    } catch (IllegalArgumentException | IndexOutOfBoundsException e) {
      throw new ParameterException(
          spec.commandLine(), "--outage must be START:SECONDS: " + text, e);
    }
  }
}
