package org.solarmargin.cli.fit.sweep;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * The four published benchmark tables: T. Easwarakhanthan and others, Int. J. Solar Energy 4(1),
 * 1986 (RTC, PWP201); N. Tong, W. Pora, Applied Energy 176, 2016 (STM6, STP6). Optima of the exact
 * residual: computed with SciPy 1.10.1 by least squares and differential evolution, which agree;
 * those of the approximate residual are the figures of the literature, with the digits printed
 * there and more.
 */
public class PublishedCurvesTest {

  public static final Path TABLES = Path.of("src/test/resources/bench-curves");
  private static final double SIX_DIGITS = 5e-7;

  /** Relative tolerance of the parameters, which depend slightly on the physical constants used. */
  private static final double PARAMETERS = 2e-3;

  @ParameterizedTest
  @CsvSource({
    "rtc-france-33c, 1, 33, 7.7300626899e-4, 9.8602187789e-4, 0.036546946, 1.477269327,"
        + " 3.10684562e-7, 52.889788",
    "pwp201-45c, 36, 45, 2.0529606408e-3, 2.4250748681e-3, 1.235634168, 1.322174264, 2.63807679e-6,"
        + " 821.641300",
    "stm6-40-36-51c, 36, 51, 1.7219215120e-3, 1.7298137099e-3, 0.153640225, 1.520468282,"
        + " 1.74124576e-6, 573.533911",
    "stp6-120-36-55c, 36, 55, 1.4251063558e-2, 1.6600603125e-2, 0.168918183, 1.244457510,"
        + " 1.93088817e-6, 570.197498"
  })
  void theGlobalOptimumIsReached(
      String table,
      int series,
      double celsius,
      double exactRms,
      double approximateRms,
      double seriesOhms,
      double ideality,
      double saturation,
      double shuntOhms) {
    Sweep sweep = Sweep.read(TABLES.resolve(table + ".csv"), series, 1, 1000, celsius);
    FitResult fit = CheckedFit.of(sweep, FitOptions.DEFAULT);
    assertEquals(exactRms, fit.rms(), SIX_DIGITS * exactRms, "exact residual");
    assertEquals(approximateRms, fit.approximateRms(), SIX_DIGITS * approximateRms, "approximate");
    assertEquals(seriesOhms, series * fit.cell().seriesOhms(), PARAMETERS * seriesOhms);
    assertEquals(ideality, fit.cell().ideality(), PARAMETERS * ideality);
    assertEquals(saturation, fit.values()[1], PARAMETERS * saturation, "I0 at the bench");
    assertEquals(shuntOhms, series * fit.values()[4], PARAMETERS * shuntOhms);
    assertTrue(fit.evaluations() < 1000, () -> "evaluations: " + fit.evaluations());
  }
}
