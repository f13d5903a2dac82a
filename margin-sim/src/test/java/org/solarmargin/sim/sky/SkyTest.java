package org.solarmargin.sim.sky;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.ZoneOffset;
import java.time.ZonedDateTime;
import java.util.Random;
import net.e175.klaus.solarpositioning.SPA;
import net.e175.klaus.solarpositioning.SolarPosition;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class SkyTest {

  /**
   * EN 50530 annex B: levels, repeats, slope (W/m2/s) and duration, which includes 300 s of
   * waiting.
   */
  @ParameterizedTest
  @CsvSource({
    "100, 500, 2, 0.5, 3540", "100, 500, 2, 1, 1940", "100, 500, 3, 2, 1560",
    "100, 500, 4, 3, 1447", "100, 500, 6, 5, 1380", "100, 500, 8, 7, 1374",
    "100, 500, 10, 10, 1300", "100, 500, 10, 14, 1071", "100, 500, 10, 20, 900",
    "100, 500, 10, 30, 767", "100, 500, 10, 50, 660", "300, 1000, 10, 10, 1900",
    "300, 1000, 10, 14, 1500", "300, 1000, 10, 20, 1200", "300, 1000, 10, 30, 967",
    "300, 1000, 10, 50, 780", "300, 1000, 10, 100, 640"
  })
  void rampsHaveTheTabulatedDurations(
      double low, double high, int repeats, double slope, double seconds) {
    RampSky sky = new RampSky(low / 1000, high / 1000, slope / 1000, 10, repeats, 300, false);
    assertEquals(seconds, sky.durationSeconds(), 0.5);
    assertEquals(low / 1000, sky.suns(0), 1e-12);
    double ramp = (high - low) / slope;
    assertEquals(high / 1000, sky.suns(300 + ramp + 5), 1e-12);
    assertEquals((low + high) / 2000, sky.suns(300 + ramp / 2), 1e-9);
  }

  /** Haurwitz 1945. */
  @ParameterizedTest
  @CsvSource({
    "5, 48.6298688",
    "10, 135.7417481",
    "30, 487.8941329",
    "50, 778.7666893",
    "90, 1035.0920325"
  })
  void clearSkyFollowsHaurwitz(double elevation, double irradiance) {
    assertEquals(irradiance, DaySky.clearSky(90 - elevation), 1e-6);
    assertEquals(0, DaySky.clearSky(95));
  }

  /** Kasten and Young 1989, apparent zenith. */
  @ParameterizedTest
  @CsvSource({
    "0, 0.999712",
    "30, 1.153992",
    "60, 1.994293",
    "70, 2.903147",
    "80, 5.586036",
    "85, 10.305791",
    "90, 37.919608"
  })
  void airMassFollowsKastenAndYoung(double zenith, double mass) {
    assertEquals(mass, DaySky.airMass(zenith), 1e-6);
  }

  /**
   * The example of NREL/TP-560-34302, by the library that {@link DaySky} uses, called in the same
   * way.
   */
  @Test
  void sunPositionEqualsTheNrelExample() {
    SolarPosition sun =
        SPA.calculateSolarPosition(
            ZonedDateTime.of(2003, 10, 17, 12, 30, 30, 0, ZoneOffset.ofHours(-7)),
            39.742476,
            -105.1786,
            1830.14,
            67,
            820,
            11);
    assertEquals(50.11162, sun.zenithAngle(), 1e-5);
    assertEquals(194.34024, sun.azimuth(), 1e-5);
  }

  @Test
  void aTiltTowardsTheSunIncreasesTheLight() {
    double level = DaySky.onArray(60, 180, 0, 180);
    assertTrue(DaySky.onArray(60, 180, 15, 180) > level);
    assertTrue(DaySky.onArray(60, 180, 15, 0) < level);
    assertEquals(DaySky.clearSky(60) / 1000, level, 1e-12);
    DaySky noon =
        new DaySky(
            ZonedDateTime.of(2026, 6, 21, 12, 0, 0, 0, ZoneOffset.UTC),
            3600,
            45,
            0,
            new DaySky.Attitude(0, 180, 0, 0, 5));
    assertTrue(noon.suns(1800) > 0.8 && noon.suns(1800) < 1.1);
    DaySky turning =
        new DaySky(
            ZonedDateTime.of(2026, 6, 21, 18, 0, 0, 0, ZoneOffset.UTC),
            600,
            45,
            0,
            new DaySky.Attitude(15, 0, 10, 0, 5));
    double least = 9;
    double most = 0;
    for (double t = 0; t < 36; t++) {
      least = Math.min(least, turning.suns(t));
      most = Math.max(most, turning.suns(t));
    }
    assertTrue(most > 1.3 * least, "a turn under a low sun: " + least + " to " + most);
  }

  @Test
  void aCloudReducesTheLightByItsDepthAndPasses() {
    CloudSky cloud = new CloudSky(1, 0.6, 50, 200, 40, 10, 0.1);
    assertEquals(1, cloud.suns(0), 1e-6);
    assertEquals(0.4, cloud.suns(60), 0.01);
    assertEquals(1, cloud.suns(200), 1e-6);
    double most = 0;
    for (double t = 0; t < 100; t += 0.1) {
      most = Math.max(most, cloud.suns(t));
    }
    assertTrue(most > 1.02, "enhancement outside the edge: " + most);
  }

  @Test
  void brokenSkyDependsOnTheSeedAndHasTheStatedCover() {
    double dark = 0;
    int points = 0;
    for (int seed = 0; seed < 40; seed++) {
      BrokenSky a = new BrokenSky(1, 0.4, 0.5, 30, 8, 0, 600, new Random(seed));
      BrokenSky b = new BrokenSky(1, 0.4, 0.5, 30, 8, 0, 600, new Random(seed));
      for (double t = 0; t < 600; t += 1) {
        assertEquals(a.suns(t), b.suns(t));
        dark += a.suns(t) < 0.87 ? 1 : 0;
        points++;
      }
    }
    assertEquals(0.4, dark / points, 0.1);
  }

  @Test
  void recordingTimesMustIncrease() {
    assertThrows(
        IllegalArgumentException.class,
        () -> new RecordedSky(new double[] {0, 1, 1}, new double[] {1, 1, 1}));
    RecordedSky sky = new RecordedSky(new double[] {0, 10}, new double[] {1, 0.5});
    assertEquals(0.75, sky.suns(5), 1e-12);
    assertEquals(0.5, sky.suns(99), 1e-12);
  }

  /** Half a cycle later what starts high is what starts low, and it ends where it began. */
  @Test
  void rampsThatStartHighAreTheOthersHalfACycleLater() {
    // 8 s of ramp and 2 s of dwell: a cycle of 20 s
    RampSky low = new RampSky(0.2, 1, 0.1, 2, 3, 5, false);
    RampSky high = new RampSky(0.2, 1, 0.1, 2, 3, 5, true);
    for (double t = 5; t < 54; t += 0.5) {
      assertEquals(low.suns(t + 10), high.suns(t), 1e-9, "at " + t);
    }
    assertEquals(1, high.suns(4));
    assertEquals(0.2, high.suns(14), 1e-12);
    assertEquals(0.6, high.suns(19), 1e-12);
    assertEquals(1, high.suns(24), 1e-12);
    assertEquals(1, high.suns(65), "at the end");
    assertEquals(0.2, low.suns(65), "at the end");
  }

  /** Sun under the horizon behind a tilted array: no beam, but the sky's light. */
  @Test
  void aLowSunGivesNoBeam() {
    assertEquals(0, Transposition.beam(100, 89.5, 180, 60, 180));
    assertEquals(0, Transposition.beam(100, 60, 180, 60, 0), "the sun stands behind the plane");
    assertEquals(100, Transposition.beam(100, 60, 180, 0, 180), 1e-9, "level ground");
    // incidence 0 at a zenith of 60 degrees: 1 / cos 60
    assertEquals(200, Transposition.beam(100, 60, 180, 60, 180), 1e-9);
  }

  @Test
  void aRecordingHoldsItsEnds() {
    RecordedSky sky = new RecordedSky(new double[] {2, 10}, new double[] {1, 0.5});
    assertEquals(1, sky.suns(0));
    assertEquals(0.5, sky.suns(10));
    assertThrows(
        IllegalArgumentException.class, () -> new RecordedSky(new double[] {}, new double[] {}));
    assertThrows(
        IllegalArgumentException.class,
        () -> new RecordedSky(new double[] {0}, new double[] {1, 2}));
  }
}
