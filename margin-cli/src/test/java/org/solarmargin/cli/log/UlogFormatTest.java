package org.solarmargin.cli.log;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotNull;
import static org.junit.jupiter.api.Assertions.assertNull;
import static org.junit.jupiter.api.Assertions.assertTimeoutPreemptively;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.time.Duration;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Layouts of messages, by the types and rules of the ULog format's documentation. */
class UlogFormatTest {

  /** All bits set: -1 or the largest value; of a char and a bool the byte. */
  @ParameterizedTest
  @CsvSource({
    "int8_t, -1, 1",
    "uint8_t, 255, 1",
    "bool, 255, 1",
    "char, 255, 1",
    "int16_t, -1, 2",
    "uint16_t, 65535, 2",
    "int32_t, -1, 4",
    "uint32_t, 4294967295, 4",
    "int64_t, -1, 8",
    "float, NaN, 4",
    "double, NaN, 8"
  })
  void eachTypeHasItsWidthAndSign(String type, double ones, int width) {
    UlogFormat format = UlogFormat.of("t", Map.of("t", type + "[3] x;uint8_t last;"));
    ByteBuffer data = ByteBuffer.allocate(3 * width + 1).order(ByteOrder.LITTLE_ENDIAN);
    for (int i = width; i < 2 * width; i++) {
      data.put(i, (byte) 0xff);
    }
    data.put(3 * width, (byte) 7);
    UlogFormat.Field x = format.field("x");
    assertEquals(0, x.number(data, 0));
    assertEquals(ones, x.number(data, 1));
    assertEquals(0, x.number(data, 2));
    assertEquals(Double.NaN, x.number(data, 3), "behind the last of three");
    assertEquals(7, format.field("last").number(data, 0));
    data.limit(2 * width);
    assertEquals(Double.NaN, x.number(data, 2), "behind the message's end");
  }

  @Test
  void numbersAreLittleEndianAsTheBufferSays() {
    ByteBuffer data = ByteBuffer.allocate(20).order(ByteOrder.LITTLE_ENDIAN);
    data.putFloat(29.5f).putDouble(-2.25).putLong(1_782_000_000_000_000L);
    UlogFormat format = UlogFormat.of("t", Map.of("t", "float a;double b;uint64_t c;"));
    assertEquals(29.5, format.field("a").number(data, 0));
    assertEquals(-2.25, format.field("b").number(data, 0));
    assertEquals(1.782e15, format.field("c").number(data, 0));
  }

  @Test
  void nestedTypesLieOneBehindTheOther() {
    UlogFormat format =
        UlogFormat.of(
            "outer",
            Map.of("outer", "uint8_t first;pair[2] p;uint8_t last;", "pair", "int16_t v;float w;"));
    assertEquals(0, format.field("first").offset());
    // of an array the last one is found by the name; both take their place
    assertEquals(7, format.field("p.v").offset());
    assertEquals(9, format.field("p.w").offset());
    assertEquals(13, format.field("last").offset());
    assertNull(format.field("p"));
    assertNull(format.field("x"));
  }

  @Test
  void anUnknownTypeHasNoFieldsAndNoWidth() {
    UlogFormat format = UlogFormat.of("t", Map.of("t", "thing x;uint8_t y;novalue;; "));
    assertNull(format.field("x"));
    assertEquals(0, format.field("y").offset());
  }

  /** Messages have no more than 65535 bytes, whatever a definition says. */
  @ParameterizedTest
  @ValueSource(
      strings = {
        "float[2000000000] x;float[2000000000] y;float z;",
        "t[2000000000] x;",
        "empty[2000000000] x;",
        "empties[65535] x;",
        "float[-1] x;float[many] y;float[ z;"
      })
  void monstrousDefinitionsEndSoon(String definition) {
    Map<String, String> definitions =
        Map.of("t", definition + "uint8_t end;", "empty", "", "empties", "empty[65535] x;");
    ByteBuffer data = ByteBuffer.allocate(65_535).order(ByteOrder.LITTLE_ENDIAN);
    assertTimeoutPreemptively(
        Duration.ofSeconds(20),
        () -> {
          UlogFormat format = UlogFormat.of("t", definitions);
          for (String name : new String[] {"x", "y", "z", "end"}) {
            UlogFormat.Field field = format.field(name);
            if (field != null) {
              double number = field.number(data, 0);
              assertEquals(field.count() == 0 || field.offset() > 65_531 ? Double.NaN : 0, number);
            }
          }
        });
  }

  @Test
  void longArraysAreWholeUpToTheLongestMessage() {
    UlogFormat format = UlogFormat.of("t", Map.of("t", "uint8_t[65534] x;uint8_t y;"));
    assertEquals(65_534, format.field("y").offset());
    assertNotNull(format.field("x"));
  }
}
