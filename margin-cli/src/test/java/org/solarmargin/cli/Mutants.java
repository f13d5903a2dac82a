package org.solarmargin.cli;

import java.io.ByteArrayOutputStream;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Random;
import java.util.stream.IntStream;
import java.util.stream.Stream;

/**
 * Damaged copies of good files: the quick part of fuzzing, identical in every run. The fuzzer
 * itself (environment variable {@code JAZZER_FUZZ}) gets only the good files.
 */
public final class Mutants {

  private static final int USUAL = 400;
  private static final int MOST_EDITS = 6;
  private static final String[] WORDS = {
    "",
    ",",
    ";",
    "\t",
    "\n",
    "\r",
    "\"",
    "#",
    "=",
    "\\",
    "\\u0",
    "nan",
    "-",
    "1e999",
    "-0",
    "0x1p3",
    "29d",
    "\u0000",
    "\u001b[2J",
    "\ufeff",
    "é",
    "time_s",
    "bus_v",
    "99999999999999999999",
    "."
  };

  private Mutants() {}

  /**
   * Inputs for a reader.
   *
   * @param good good files, not empty
   * @return the good files, and damaged copies unless the fuzzer is running
   */
  public static Stream<byte[]> of(List<byte[]> good) {
    if (System.getenv("JAZZER_FUZZ") != null) {
      return good.stream();
    }
    Random random = new Random(14);
    return Stream.concat(
        good.stream(), IntStream.range(0, USUAL).mapToObj(i -> mutant(good, random)));
  }

  private static byte[] mutant(List<byte[]> good, Random random) {
    byte[] bytes = good.get(random.nextInt(good.size()));
    int edits = 1 + random.nextInt(MOST_EDITS);
    for (int i = 0; i < edits; i++) {
      bytes = edit(bytes, random);
    }
    return bytes;
  }

  /**
   * Replaces a piece, usually a short one, by a word, a random byte, or another piece of the file.
   */
  private static byte[] edit(byte[] bytes, Random random) {
    int from = random.nextInt(bytes.length + 1);
    int longest = Math.min(bytes.length - from, random.nextInt(8) == 0 ? bytes.length : 8);
    int to = from + random.nextInt(longest + 1);
    ByteArrayOutputStream edited = new ByteArrayOutputStream();
    edited.write(bytes, 0, from);
    switch (random.nextInt(4)) {
      case 0 -> edited.write(random.nextInt(256));
      case 1 -> {
        int piece = random.nextInt(bytes.length + 1);
        edited.write(bytes, piece, Math.min(bytes.length - piece, random.nextInt(60)));
      }
      default ->
          edited.writeBytes(WORDS[random.nextInt(WORDS.length)].getBytes(StandardCharsets.UTF_8));
    }
    edited.write(bytes, to, bytes.length - to);
    return edited.toByteArray();
  }
}
