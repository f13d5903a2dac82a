package org.solarmargin.core.monitor;

import static org.junit.jupiter.api.Assertions.assertTrue;

import java.lang.reflect.Array;
import java.lang.reflect.Field;
import java.lang.reflect.Modifier;
import java.util.Collections;
import java.util.IdentityHashMap;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.solarmargin.core.alert.AlertRules;
import org.solarmargin.core.estimator.TestCraft;

/** The memory of a monitor, summed field by field: objects of this project and their arrays. */
class FootprintTest {

  private static final int LIMIT_BYTES = 12 * 1024;

  /** 64-bit HotSpot with compressed class pointers. */
  private static final int HEADER = 12;

  private static final int ARRAY_HEADER = 16;
  private static final int ALIGNMENT = 8;

  private final Set<Object> seen = Collections.newSetFromMap(new IdentityHashMap<>());

  @Test
  void aMonitorsStateIsUnderTwelveKilobytes() throws IllegalAccessException {
    // objects passed in by the caller belong to the caller
    sizeOf(TestCraft.SETTINGS);
    sizeOf(AlertRules.DEFAULT);
    long bytes =
        sizeOf(new MarginMonitor(TestCraft.SETTINGS, AlertRules.DEFAULT, (t, l, r, w, m, z) -> {}));
    assertTrue(bytes > 1568, () -> "a covariance of 14 by 14 must be in it: " + bytes);
    assertTrue(bytes < LIMIT_BYTES, () -> "bytes: " + bytes);
  }

  private long sizeOf(Object object) throws IllegalAccessException {
    if (object == null || object instanceof Enum || !seen.add(object)) {
      return 0;
    }
    Class<?> type = object.getClass();
    long bytes = type.isArray() ? ARRAY_HEADER : HEADER;
    long inner = 0;
    if (type.isArray()) {
      Class<?> part = type.getComponentType();
      bytes += (long) Array.getLength(object) * width(part);
      for (int i = 0; !part.isPrimitive() && i < Array.getLength(object); i++) {
        inner += sizeOf(Array.get(object, i));
      }
    } else {
      for (Field field : type.getDeclaredFields()) {
        if (Modifier.isStatic(field.getModifiers())) {
          continue;
        }
        bytes += width(field.getType());
        if (type.getName().startsWith("org.solarmargin") && !field.getType().isPrimitive()) {
          field.setAccessible(true);
          inner += sizeOf(field.get(object));
        }
      }
    }
    return (bytes + ALIGNMENT - 1) / ALIGNMENT * ALIGNMENT + inner;
  }

  /** Bytes of a field or element, with compressed references, as in any heap below 32 GB. */
  private static int width(Class<?> type) {
    if (type == double.class || type == long.class) {
      return 8;
    }
    return type == boolean.class || type == byte.class ? 1 : 4;
  }
}
