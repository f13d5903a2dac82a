package org.solarmargin.cli.live;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.assumeFalse;

import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.solarmargin.cli.file.InputFault;

/** Why a serial line cannot be opened. */
class SerialStreamTest {

  @TempDir private Path folder;

  @Test
  void withoutPermissionTheGroupIsNamed() {
    assertTrue(SerialStream.refusal(false, 13).startsWith("no permission: add your user to"));
    assertTrue(SerialStream.refusal(true, 16).contains("another program has it open"));
  }

  @Test
  void anUnreadableDeviceIsReported() throws Exception {
    Path device = Files.createFile(folder.resolve("device"));
    Files.setPosixFilePermissions(device, PosixFilePermissions.fromString("---------"));
    assumeFalse(Files.isReadable(device), "this user may read everything");
    InputFault fault =
        assertThrows(InputFault.class, () -> new SerialStream(device.toString(), 57_600));
    assertTrue(fault.getMessage().contains("no permission"), fault.getMessage());
  }

  @Test
  void aMissingDeviceOrAPlainFileIsReported() throws Exception {
    InputFault none =
        assertThrows(InputFault.class, () -> new SerialStream(folder + "/none", 57_600));
    assertEquals(
        "serial " + folder + "/none: no such device: is it plugged in?", none.getMessage());
    Path file = Files.createFile(folder.resolve("file"));
    InputFault plain =
        assertThrows(InputFault.class, () -> new SerialStream(file.toString(), 57_600));
    assertTrue(plain.getMessage().contains("not a serial line"), plain.getMessage());
  }
}
