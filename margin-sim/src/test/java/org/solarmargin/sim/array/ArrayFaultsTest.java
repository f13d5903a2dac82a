package org.solarmargin.sim.array;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.solarmargin.core.cell.DataSheet;
import org.solarmargin.sim.array.ArrayLayout.GroupLayout;
import org.solarmargin.sim.array.ArrayLayout.Shadow;
import org.solarmargin.sim.array.ArrayLayout.StringLayout;
import org.solarmargin.sim.array.ArrayLayout.SubstringLayout;

/** Strings that break off, and shadows of the craft's own parts. */
class ArrayFaultsTest {

  private static final SimCell CELL =
      SimCell.of(new DataSheet(6.02, 0.683, 5.70, 0.574, 0.0005, -0.0029).toParameters());

  private static StringLayout string(double light) {
    GroupLayout group = new GroupLayout(CELL, 48, light, 0);
    return new StringLayout(List.of(new SubstringLayout(List.of(group), false)));
  }

  private static SimArray array(StringLayout... strings) {
    return new SimArray(new ArrayLayout(List.of(strings), false));
  }

  @Test
  void aLostStringTakesItsShare() {
    SimArray three = array(string(1), string(1), string(1));
    three.solvePeakGlobally();
    double before = three.peakWatts();
    three.loseString();
    three.followPeak();
    assertEquals(before * 2 / 3, three.peakWatts(), 1e-6 * before);
  }

  /** The first one goes; what is left is the other alone. */
  @Test
  void ofUnequalStringsTheOtherIsLeft() {
    SimArray both = array(string(0.5), string(1));
    both.loseString();
    SimArray other = array(string(1));
    assertEquals(other.openCircuitVolts(), both.openCircuitVolts(), 1e-9);
    for (double volts = 0; volts < 32; volts += 4) {
      assertEquals(other.ampsAt(volts), both.ampsAt(volts), 1e-9);
      assertEquals(other.ampsPerVolt(), both.ampsPerVolt(), 1e-9);
    }
  }

  @Test
  void aLoneStringStays() {
    SimArray array = array(string(1));
    double amps = array.ampsAt(20);
    array.loseString();
    assertEquals(amps, array.ampsAt(20), 1e-9);
  }

  @Test
  void aBlockingDiodeLetsNoCurrentIn() {
    SimArray open = array(string(1));
    SimArray blocked = new SimArray(new ArrayLayout(List.of(string(1)), true));
    assertEquals(open.ampsAt(20), blocked.ampsAt(20), 1e-9);
    assertEquals(0, blocked.ampsAt(36), "above the open-circuit voltage of 32.8 V");
  }

  /** Falls at 20 s for 4 s, every 10 s, and comes over 2 s to a light of 0.5. */
  @ParameterizedTest
  @CsvSource({
    "0, 1",
    "19.9, 1",
    "20, 1",
    "21, 0.75",
    "22, 0.5",
    "23.9, 0.5",
    "24, 1",
    "29, 1",
    "31, 0.75",
    "33, 0.5",
    "34, 1"
  })
  void aShadowComesStaysAndGoesAgainAndAgain(double time, double factor) {
    assertEquals(factor, new Shadow(20, 4, 10, 0.5, 2).factor(time), 1e-12);
    assertEquals(1, Shadow.NONE.factor(time));
  }

  @Test
  void aShadowThatComesAtOnceIsWhole() {
    assertEquals(0.3, new Shadow(0, 5, 10, 0.3, 0).factor(0));
  }
}
