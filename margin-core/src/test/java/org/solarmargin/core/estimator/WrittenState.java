package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.function.Consumer;
import org.solarmargin.core.state.StateBytes;

/** Parts of a saved state, written and read on their own. */
final class WrittenState {

  private WrittenState() {}

  /** What a part writes, behind which the rest of the length is 0. */
  static byte[] bytes(int length, Consumer<StateBytes> write) {
    byte[] room = new byte[length + StateBytes.TAIL];
    StateBytes bytes = new StateBytes(room.length);
    bytes.startWriting(room, 0);
    write.accept(bytes);
    bytes.finishWriting();
    return room;
  }

  /** A reader of bytes that may have been edited, so that their checksum is not that written. */
  static StateBytes reader(byte[] room) {
    StateBytes bytes = new StateBytes(room.length);
    bytes.startReading(room, 0);
    return bytes;
  }

  /** A reader of what a part writes. */
  static StateBytes reread(int length, Consumer<StateBytes> write) {
    byte[] room = bytes(length, write);
    StateBytes bytes = new StateBytes(room.length);
    assertTrue(bytes.startReading(room, 0));
    return bytes;
  }
}
