package org.solarmargin.core.profile;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import org.junit.jupiter.api.Test;

class StrictPropertiesTest {

  private static StrictProperties read(String text) {
    return new StrictProperties("p", text);
  }

  private static List<String> faults(StrictProperties properties) {
    return assertThrows(PropertiesException.class, properties::finish).faults();
  }

  @Test
  void continuationLinesBelongToTheirFirstLine() {
    StrictProperties in =
        read("a = one \\\n  two \\\r\n  three\nb = x\n# no \\\nc = 4\n! no \\\nd = 5");
    assertEquals("one two three", in.text("a", ""));
    assertEquals("x", in.text("b", ""));
    assertEquals(4, in.integer("c", 0, 9), "a comment is not continued");
    assertEquals(5, in.integer("d", 0, 9), "neither is one that starts with an exclamation mark");
    in.finish();
  }

  @Test
  void twoBackslashesAreOneAndEndTheLine() {
    StrictProperties in = read("a = one\\\\\nb = two\\\\\\\n  three\nwrong = 1");
    assertEquals("one\\", in.text("a", ""));
    assertEquals("two\\three", in.text("b", ""));
    assertTrue(faults(in).get(0).startsWith("p line 4: unknown key wrong"), "lines are counted");
  }

  @Test
  void aContinuationAtTheEndOfTheTextIsNoFault() {
    StrictProperties in = read("a = one \\");
    assertEquals("one", in.text("a", ""));
    in.finish();
  }

  @Test
  void wholeNumbersAreRead() {
    StrictProperties in = read("a = 7\nb = -3\nc = 2.5\nd = x");
    assertEquals(7, in.integer("a", 1, 9));
    assertEquals(7, in.integer("a", 1, 9, 4));
    assertEquals(-3, in.integer("b", -5, 9, 4));
    assertEquals(4, in.integer("absent", 1, 9, 4));
    assertFalse(in.faulty());
    assertEquals(1, in.integer("c", 1, 9), "the least, with a fault");
    assertEquals(3, in.integer("d", 3, 9, 4), "the least, with a fault");
    assertEquals(2, in.integer("missing", 2, 9));
    assertTrue(in.faulty());
    assertEquals(
        List.of(
            "p line 3: c must be a whole number: 2.5",
            "p line 4: d must be a number with '.' as decimal mark: x",
            "p: missing is missing: give a number in [2, 9]"),
        faults(in));
  }

  @Test
  void limitsAreInclusiveAndPrintedPlainly() {
    StrictProperties in = read("a = 1\nb = 2.5\nc = 2.51\nd = 0.99");
    assertEquals(1, in.number("a", 1, 2.5));
    assertEquals(2.5, in.number("b", 1, 2.5));
    assertFalse(in.faulty());
    assertEquals(Double.NaN, in.number("c", 1, 2.5));
    assertEquals(Double.NaN, in.number("d", 1, 1e9, 4));
    assertEquals(
        List.of("p line 3: c must be in [1, 2.5]: 2.51", "p line 4: d must be in [1, 1.0E9]: 0.99"),
        faults(in));
  }

  @Test
  void theNearestKeyIsSuggested() {
    StrictProperties in = read("cel.isc = 1");
    assertFalse(in.has("rotor.count"));
    assertFalse(in.has("cell.isc_a"));
    assertFalse(in.has("cell.voc_v"));
    assertEquals(List.of("p line 1: unknown key cel.isc, did you mean cell.isc_a?: 1"), faults(in));
  }

  @Test
  void faultsOfTheReaderAreKept() {
    StrictProperties in = read("a = 1\nb = \\u00zz");
    assertTrue(in.has("a"));
    in.fault("a rule");
    in.faultOf("a", "another rule");
    assertEquals(
        List.of(
            "p line 2: not a properties line: b = \\u00zz",
            "p: a rule",
            "p line 1: another rule: 1"),
        faults(in));
  }

  private enum Colour {
    RED,
    GREEN
  }

  @Test
  void aChoiceIsOneOfItsNames() {
    StrictProperties in = read("a = GREEN\nb = BLUE");
    assertEquals(Colour.GREEN, in.choice("a", Colour.RED));
    assertEquals(Colour.GREEN, in.choice("absent", Colour.GREEN));
    assertFalse(in.faulty());
    assertEquals(Colour.RED, in.choice("b", Colour.RED));
    assertEquals(List.of("p line 2: b must be one of RED, GREEN: BLUE"), faults(in));
  }

  @Test
  void controlCharactersInATextAreAFault() {
    StrictProperties in = read("a = x\\u0007y\nb = fine");
    assertEquals("fine", in.text("b", ""));
    assertEquals("x\u0007y", in.text("a", ""));
    assertEquals(List.of("p line 1: a must have no control characters: x?y"), faults(in));
  }

  @Test
  void allOfAGroupOrNone() {
    StrictProperties in = read("a = 1\nb = 2");
    assertTrue(in.together("a", "b"));
    assertFalse(in.together("c", "d"));
    assertTrue(in.hasAny("c", "b"));
    assertTrue(in.hasAny("b", "c"));
    assertFalse(in.hasAny("c", "d"));
    assertFalse(in.faulty());
    assertFalse(in.together("a", "c"));
    assertEquals(List.of("p: give all of a, c or none; missing: c"), faults(in));
  }

  /** Ten faults are told, the others counted; nothing is offered for those. */
  @Test
  void tenFaultsAreToldAndTheOthersCounted() {
    StringBuilder text = new StringBuilder();
    for (int i = 0; i < 10; i++) {
      text.append("wrong").append(i).append(" = 1\n");
    }
    List<String> ten = faults(read(text.toString()));
    assertEquals(10, ten.size());
    assertEquals("p line 10: unknown key wrong9, did you mean ?: 1", ten.get(9));
    List<String> more = faults(read(text + "b = 1\nc = 1"));
    assertEquals(11, more.size());
    assertEquals("p: and 2 more faults: is this the right file?", more.get(10));
  }

  @Test
  void longKeysAndValuesAreCutShort() {
    String eighty = "k".repeat(80);
    StrictProperties in = read(eighty + " = " + "v".repeat(81) + "\nk" + eighty + " = v");
    assertFalse(in.has("kk"));
    assertEquals(
        List.of(
            "p line 1: unknown key " + eighty + ", did you mean kk?: " + "v".repeat(80) + "...",
            "p line 2: unknown key " + eighty + "...: v"),
        faults(in));
  }

  /** Levenshtein's own distances: one insertion, deletion or substitution each. */
  @Test
  void theNearestOfSeveralIsTheOneWithTheFewestChanges() {
    for (String[] pair :
        new String[][] {{"kitten", "sitting"}, {"abc", "ab"}, {"bc", "abc"}, {"xbc", "abc"}}) {
      StrictProperties in = read(pair[0] + " = 1");
      assertFalse(in.has("zzzzzzzz"));
      assertFalse(in.has(pair[1]));
      assertFalse(in.has(pair[1] + "12"));
      assertFalse(in.has("1" + pair[1] + "1"));
      assertEquals(
          "p line 1: unknown key " + pair[0] + ", did you mean " + pair[1] + "?: 1",
          faults(in).get(0));
    }
  }

  @Test
  void aBillionIsPrintedInScientificNotationAndLessIsNot() {
    StrictProperties in = read("a = 2e10");
    in.number("a", -999_999_999, 1e9);
    assertEquals(List.of("p line 1: a must be in [-999999999, 1.0E9]: 2e10"), faults(in));
  }
}
