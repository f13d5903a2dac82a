package org.solarmargin.cli.log;

import java.io.ByteArrayOutputStream;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;

/** Writes ULog files with topics of bus and motors, following the format's documentation. */
final class UlogWriter {

  private static final int BATTERY = 3;
  private static final int MOTORS = 7;

  private final ByteArrayOutputStream out = new ByteArrayOutputStream();

  UlogWriter() {
    out.writeBytes(new byte[] {'U', 'L', 'o', 'g', 1, 0x12, 0x35, 1});
    out.writeBytes(new byte[8]);
    message('B', buffer(40));
    message('F', text("battery_status:uint64_t timestamp;float voltage_v;float current_a;"));
    message(
        'F',
        text("actuator_motors:uint64_t timestamp;uint64_t timestamp_sample;float[12] control;"));
    subscribe(BATTERY, "battery_status");
    subscribe(MOTORS, "actuator_motors");
  }

  private static ByteBuffer buffer(int length) {
    return ByteBuffer.allocate(length).order(ByteOrder.LITTLE_ENDIAN);
  }

  private static ByteBuffer text(String text) {
    return ByteBuffer.wrap(text.getBytes(StandardCharsets.UTF_8));
  }

  private void message(char type, ByteBuffer content) {
    byte[] bytes = new byte[3 + content.capacity()];
    ByteBuffer.wrap(bytes)
        .order(ByteOrder.LITTLE_ENDIAN)
        .putShort((short) content.capacity())
        .put((byte) type)
        .put(content.rewind());
    out.writeBytes(bytes);
  }

  private void subscribe(int id, String name) {
    byte[] bytes = name.getBytes(StandardCharsets.UTF_8);
    message('A', buffer(3 + bytes.length).put((byte) 0).putShort((short) id).put(bytes));
  }

  void battery(long micros, double volts, double amps) {
    message(
        'D',
        buffer(18)
            .putShort((short) BATTERY)
            .putLong(micros)
            .putFloat((float) volts)
            .putFloat((float) amps));
  }

  /** Four motors about a mean; the other elements are NaN. */
  void motors(long micros, double throttle) {
    ByteBuffer data = buffer(2 + 16 + 48).putShort((short) MOTORS).putLong(micros).putLong(micros);
    for (int i = 0; i < 12; i++) {
      double odd = i % 2 == 0 ? 0.01 : -0.01;
      data.putFloat(i < 4 ? (float) (throttle + odd) : Float.NaN);
    }
    message('D', data);
  }

  /** A topic of floats behind its time; {@code format} as in the format's definitions. */
  void define(int id, String name, int instance, String format) {
    message('F', text(name + ":" + format));
    byte[] bytes = name.getBytes(StandardCharsets.UTF_8);
    message('A', buffer(3 + bytes.length).put((byte) instance).putShort((short) id).put(bytes));
  }

  /** A message of such a topic. */
  void floats(int id, long micros, float... values) {
    ByteBuffer data = buffer(10 + 4 * values.length).putShort((short) id).putLong(micros);
    for (float value : values) {
      data.putFloat(value);
    }
    message('D', data);
  }

  byte[] bytes() {
    return out.toByteArray();
  }
}
