package org.solarmargin.cli.log;

import java.nio.ByteBuffer;
import java.util.LinkedHashMap;
import java.util.Map;

/** The layout of one topic's messages in a ULog file. */
final class UlogFormat {

  private static final int DEEPEST = 8;

  /** Longest message of the format: its length has 16 bits. */
  private static final int MOST_BYTES = 65_535;

  /** Definitions that are expanded: no message of that length has more fields. */
  private static final int MOST_PARTS = 100_000;

  /** A field: type, offset in bytes, and number of elements. */
  record Field(String type, int offset, int count) {

    /** An element as a number; NaN if the message is too short. */
    double number(ByteBuffer data, int index) {
      int at = offset + index * width(type);
      if (index >= count || at + width(type) > data.limit()) {
        return Double.NaN;
      }
      return switch (type) {
        case "float" -> data.getFloat(at);
        case "double" -> data.getDouble(at);
        case "int8_t" -> data.get(at);
        case "uint8_t", "bool", "char" -> data.get(at) & 0xff;
        case "int16_t" -> data.getShort(at);
        case "uint16_t" -> Short.toUnsignedInt(data.getShort(at));
        case "int32_t" -> data.getInt(at);
        case "uint32_t" -> Integer.toUnsignedLong(data.getInt(at));
        default -> data.getLong(at);
      };
    }
  }

  private final Map<String, Field> fields = new LinkedHashMap<>();
  private int parts;

  private UlogFormat() {}

  private static int width(String type) {
    return switch (type) {
      case "int8_t", "uint8_t", "bool", "char" -> 1;
      case "int16_t", "uint16_t" -> 2;
      case "int32_t", "uint32_t", "float" -> 4;
      case "int64_t", "uint64_t", "double" -> 8;
      default -> 0;
    };
  }

  /**
   * The layout of a topic, whose definitions have the form {@code type name;} each, with nested
   * types expanded.
   */
  static UlogFormat of(String topic, Map<String, String> definitions) {
    UlogFormat format = new UlogFormat();
    format.add("", topic, definitions, 0, 0);
    return format;
  }

  private int add(
      String prefix, String topic, Map<String, String> definitions, int from, int depth) {
    int offset = from;
    for (String part : definitions.getOrDefault(topic, "").split(";", -1)) {
      int blank = part.indexOf(' ');
      if (++parts > MOST_PARTS || blank <= 0 || depth > DEEPEST || offset > MOST_BYTES) {
        continue;
      }
      String type = part.substring(0, blank);
      String name = part.substring(blank + 1).strip();
      int count = 1;
      int open = type.indexOf('[');
      if (open > 0) {
        count = length(type.substring(open + 1));
        type = type.substring(0, open);
      }
      int width = width(type);
      if (width > 0) {
        fields.put(prefix + name, new Field(type, offset, count));
        offset += width * count;
      } else {
        for (int i = 0; i < count && parts <= MOST_PARTS; i++) {
          offset = add(prefix + name + ".", type, definitions, offset, depth + 1);
        }
      }
    }
    return offset;
  }

  private static int length(String bracketed) {
    try {
      int number = Integer.parseInt(bracketed.substring(0, Math.max(bracketed.indexOf(']'), 0)));
      return Math.min(Math.max(number, 0), MOST_BYTES);
    } catch (NumberFormatException e) {
      return 0;
    }
  }

  /** A field; null if there is none of that name. */
  Field field(String name) {
    return fields.get(name);
  }
}
