package org.solarmargin.cli.mavlink;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.dronefleet.mavlink.common.VfrHud;
import io.dronefleet.mavlink.protocol.MavlinkPacket;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.security.MessageDigest;
import java.util.Arrays;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.solarmargin.cli.file.InputFault;

/** Keys from files, and signatures by the published rule. */
class SigningKeyTest {

  @TempDir private Path folder;

  private final byte[] secret = new byte[32];

  SigningKeyTest() {
    for (int i = 0; i < secret.length; i++) {
      secret[i] = (byte) (7 * i + 200);
    }
  }

  private SigningKey key() throws IOException {
    return SigningKey.read(Files.write(folder.resolve("key"), secret));
  }

  private static MavlinkPacket message(byte[] packet) throws IOException {
    return new PacketReader(new ByteArrayInputStream(packet)).next();
  }

  @Test
  void bytesAndDigitsAreTheSameKey() throws IOException {
    assertArrayEquals(secret, key().bytes());
    StringBuilder hex = new StringBuilder();
    for (byte one : secret) {
      hex.append(String.format("%02X", one));
    }
    Path digits = Files.writeString(folder.resolve("hex"), hex + "\r\n");
    assertArrayEquals(secret, SigningKey.read(digits).bytes());
    Path wrong = Files.writeString(folder.resolve("wrong"), hex.substring(2));
    assertTrue(
        assertThrows(InputFault.class, () -> SigningKey.read(wrong))
            .getMessage()
            .contains("a key must have 32 bytes or 64 hexadecimal digits"));
    assertThrows(InputFault.class, () -> SigningKey.read(folder.resolve("none")));
  }

  @Test
  void aKeyReadableByOthersIsDetected() throws IOException {
    key();
    Path file = folder.resolve("key");
    Files.setPosixFilePermissions(file, PosixFilePermissions.fromString("rw-------"));
    assertFalse(SigningKey.read(file).readableByOthers());
    Files.setPosixFilePermissions(file, PosixFilePermissions.fromString("rw-r-----"));
    assertTrue(SigningKey.read(file).readableByOthers());
  }

  /** MAVLink 2, message signing: SHA-256 over key and packet to the time stamp, first 6 bytes. */
  @Test
  void theSignatureIsThatOfTheStandard() throws Exception {
    byte[] packet = new PacketWriter(1, 1, key()).packet(VfrHud.builder().throttle(50).build());
    MessageDigest sha = MessageDigest.getInstance("SHA-256");
    sha.update(secret);
    sha.update(packet, 0, packet.length - 6);
    byte[] expected = Arrays.copyOf(sha.digest(), 6);
    assertArrayEquals(expected, Arrays.copyOfRange(packet, packet.length - 6, packet.length));
  }

  @Test
  void eachStampIsAcceptedOnceAndOldStreamsAreRefused() throws IOException {
    PacketWriter writer = new PacketWriter(1, 1, key());
    byte[] first = writer.packet(VfrHud.builder().throttle(50).build());
    byte[] second = writer.packet(VfrHud.builder().throttle(50).build());
    SignatureCheck check = new SignatureCheck(key(), SigningKey::now);
    assertEquals(SignatureCheck.Outcome.GOOD, check.judge(message(second)));
    assertEquals(SignatureCheck.Outcome.OLD, check.judge(message(second)));
    assertEquals(SignatureCheck.Outcome.OLD, check.judge(message(first)));
    SignatureCheck minuteOn = new SignatureCheck(key(), () -> SigningKey.now() + 6_100_000);
    assertEquals(SignatureCheck.Outcome.OLD, minuteOn.judge(message(first)));
    SignatureCheck before = new SignatureCheck(key(), () -> SigningKey.now() + 5_900_000);
    assertEquals(SignatureCheck.Outcome.GOOD, before.judge(message(first)));
    byte[] unsigned = new PacketWriter(1, 1, null).packet(VfrHud.builder().throttle(50).build());
    assertEquals(SignatureCheck.Outcome.UNSIGNED, check.judge(message(unsigned)));
    secret[0]++;
    byte[] forged = new PacketWriter(1, 1, key()).packet(VfrHud.builder().throttle(50).build());
    assertEquals(SignatureCheck.Outcome.WRONG, check.judge(message(forged)));
  }
}
