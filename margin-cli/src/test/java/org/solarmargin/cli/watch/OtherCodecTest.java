package org.solarmargin.cli.watch;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.net.DatagramSocket;
import java.net.InetAddress;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.solarmargin.cli.Cli;
import org.solarmargin.cli.Node;

/**
 * Live test with an independent codec, npm's node-mavlink: its packets of versions 1 and 2, signed
 * and unsigned, are watched, and it reads what is sent back.
 */
class OtherCodecTest {

  private static final int ROWS = 1000;
  private static final String KEY =
      "000102030405060708090a0b0c0d0e0f101112131415161718191a1b1c1d1e1f";

  /**
   * Sends a flight, with packets that must be refused if there is a key, and prints the answers.
   */
  private static final String SCRIPT =
      """
      const m = require("node-mavlink");
      const fs = require("fs"), dgram = require("dgram"), stream = require("stream");
      const [log, to, back, rows, hex] = process.argv.slice(2);
      const key = hex ? Buffer.from(hex, "hex") : null;
      const other = Buffer.alloc(32, 7);
      const registry = { ...m.minimal.REGISTRY, ...m.common.REGISTRY };
      const v1 = new m.MavLinkProtocolV1(1, 1), v2 = new m.MavLinkProtocolV2(1, 1);
      const signed = new m.MavLinkProtocolV2(1, 1, m.MavLinkProtocolV2.IFLAG_SIGNED);
      const socket = dgram.createSocket("udp4"), answers = dgram.createSocket("udp4");
      let sequence = 0, stamp = Date.now() - 30000;
      const send = bytes => socket.send(bytes, Number(to), "127.0.0.1");
      const sign = (message, secret) =>
        signed.sign(signed.serialize(message, sequence++ & 255), 7, secret, stamp++);
      const good = (message, row) => key || row % 3 == 2 ? sign(message, key || other)
        : (row % 3 ? v1 : v2).serialize(message, sequence++ & 255);
      const battery = (volts, amps) => {
        const b = new m.common.BatteryStatus();
        b.voltages = [Math.round(1000 * volts), ...Array(9).fill(65535)];
        b.currentBattery = Math.round(100 * amps);
        return b;
      };
      const parser = new stream.PassThrough();
      parser.pipe(new m.MavLinkPacketSplitter()).pipe(new m.MavLinkPacketParser()).on("data", p => {
        const type = registry[p.header.msgid], data = p.protocol.data(p.payload, type);
        const proof = p.signature ? (p.signature.matches(key || other) ? "signed" : "forged") : "unsigned";
        console.log([p.header.sysid, p.header.compid, type.MSG_NAME, proof,
          data.text || data.name || "", data.value ?? data.severity ?? ""].join("|"));
      });
      answers.on("message", bytes => parser.write(bytes));
      const pause = ms => new Promise(done => setTimeout(done, ms));
      answers.bind(Number(back), "127.0.0.1", async () => {
        let row = 0, old = null;
        for (const line of fs.readFileSync(log, "utf8").split("\\n")) {
          const f = line.split(",");
          if (f.length < 4 || line.startsWith("time_s") || row >= rows) continue;
          const servo = new m.common.ServoOutputRaw();
          servo.timeUsec = Math.round(f[0] * 1e6);
          servo.port = 0;
          servo.servo1Raw = servo.servo2Raw = servo.servo3Raw = servo.servo4Raw = Math.round(1000 + 1000 * f[3]);
          send(good(servo, row));
          const packet = good(battery(f[1], f[2]), row);
          send(packet);
          if (key && row % 10 == 9) {
            send(v2.serialize(battery(35, 1), sequence++ & 255));
            send(v1.serialize(battery(35, 1), sequence++ & 255));
            send(sign(battery(35, 1), other));
            send(old);
          }
          old = row % 10 ? old : packet;
          if (++row % 8 == 0) await pause(12);
        }
        await pause(2500);
        process.exit(0);
      });
      """;

  @TempDir private Path folder;

  private Path log;
  private Path craft;

  @BeforeEach
  void prepare() throws IOException {
    log = folder.resolve("flight.csv");
    craft =
        Files.writeString(
            folder.resolve("craft.properties"),
            Files.readString(Cli.STILT) + "\nsensor.current_step_a = 0.01\n");
    Node.assumeThere("node-mavlink");
  }

  private static int freePort() throws IOException {
    try (DatagramSocket socket = new DatagramSocket(0, InetAddress.getLoopbackAddress())) {
      return socket.getLocalPort();
    }
  }

  private Cli watch(List<String> answers, Path key) throws Exception {
    int to = freePort();
    int back = freePort();
    CompletableFuture<Cli> watch =
        CompletableFuture.supplyAsync(
            () -> {
              Object[] words = {
                "watch",
                "--craft",
                craft,
                "--from",
                "udp:" + to,
                "--log",
                log,
                "--reply",
                "127.0.0.1:" + back,
                "--until-silent",
                4
              };
              Object[] all = java.util.Arrays.copyOf(words, words.length + (key == null ? 0 : 2));
              if (key != null) {
                all[words.length] = "--key";
                all[words.length + 1] = key;
              }
              return Cli.run(all);
            });
    Thread.sleep(700);
    Path flight = Cli.EXAMPLES.resolve("flights/slow-fade.csv");
    answers.addAll(Node.run(SCRIPT, flight, to, back, ROWS, key == null ? "" : KEY));
    Cli run = watch.get();
    assertEquals(0, run.status, run.err);
    return run;
  }

  private void assertSeen() throws IOException {
    List<String> sent =
        Files.readAllLines(Cli.EXAMPLES.resolve("flights/slow-fade.csv")).stream()
            .filter(line -> line.matches("[0-9].*"))
            .limit(ROWS)
            .map(line -> line.split(",", -1)[1])
            .toList();
    List<String> seen =
        Files.readAllLines(log).stream()
            .filter(line -> line.matches("[0-9].*"))
            .map(line -> line.split(",", -1)[1])
            .filter(volts -> !volts.isEmpty())
            .toList();
    assertEquals(sent.size(), seen.size());
    for (int i = 0; i < sent.size(); i++) {
      assertEquals(Double.parseDouble(sent.get(i)), Double.parseDouble(seen.get(i)), 0.0011);
    }
  }

  private static void assertAnswers(List<String> answers, String proof) {
    String all = String.join("\n", answers);
    assertTrue(
        answers.stream().allMatch(line -> line.matches("1\\|191\\|[^|]*\\|" + proof + ".*")), all);
    assertTrue(all.contains("|HEARTBEAT|"), all);
    assertTrue(all.matches("(?s).*NAMED_VALUE_FLOAT\\|" + proof + "\\|margin_low\\|[0-9].*"), all);
    assertTrue(all.contains("|NAMED_VALUE_FLOAT|" + proof + "|margin|NaN"), all);
    assertTrue(all.contains("|STATUSTEXT|" + proof + "|NO DATA: margin unknown|4"), all);
  }

  @Test
  void bothVersionsSignedOrNotAreAcceptedWithoutAKey() throws Exception {
    List<String> answers = new java.util.ArrayList<>();
    watch(answers, null);
    assertSeen();
    assertAnswers(answers, "unsigned");
  }

  @Test
  void withAKeyUnsignedForgedAndReplayedPacketsAreRefusedAndCounted() throws Exception {
    Path key = Files.writeString(folder.resolve("key.hex"), KEY + "\n");
    Files.setPosixFilePermissions(key, PosixFilePermissions.fromString("rw-r--r--"));
    List<String> answers = new java.util.ArrayList<>();
    Cli run = watch(answers, key);
    assertSeen();
    assertAnswers(answers, "signed");
    assertTrue(run.err.contains("other users may read this key"), run.err);
    String refused =
        "packets refused: 200 without a signature, 100 signed with another key, 100 with an old"
            + " time stamp";
    assertTrue(run.err.contains(refused), run.err);
    assertFalse(Files.readString(log).contains(",35.000,"));
  }
}
