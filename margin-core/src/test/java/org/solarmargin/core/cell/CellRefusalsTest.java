package org.solarmargin.core.cell;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Impossible cells are refused with rule and value. */
class CellRefusalsTest {

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "0 | 1e-9 | 1.2 | 0.004 | 34 | 5e-4 | -0.003 | 25 | photocurrentAmps must be > 0: 0.0",
        "1e4 | 1e-9 | 1.2 | 0.004 | 34 | 5e-4 | -0.003 | 25 | photocurrentAmps must be > 0: 10000.0",
        "6 | 0 | 1.2 | 0.004 | 34 | 5e-4 | -0.003 | 25 | saturationAmps must be > 0 and below the"
            + " photocurrent: 0.0",
        "6 | 6 | 1.2 | 0.004 | 34 | 5e-4 | -0.003 | 25 | saturationAmps must be > 0 and below the"
            + " photocurrent: 6.0",
        "6 | 1e-9 | 0.29 | 0.004 | 34 | 5e-4 | -0.003 | 25 | ideality must be in [0.3, 5]: 0.29",
        "6 | 1e-9 | 5.1 | 0.004 | 34 | 5e-4 | -0.003 | 25 | ideality must be in [0.3, 5]: 5.1",
        "6 | 1e-9 | 1.2 | -0.1 | 34 | 5e-4 | -0.003 | 25 | seriesOhms must be >= 0: -0.1",
        "6 | 1e-9 | 1.2 | 1e3 | 34 | 5e-4 | -0.003 | 25 | seriesOhms must be >= 0: 1000.0",
        "6 | 1e-9 | 1.2 | 0.004 | 0 | 5e-4 | -0.003 | 25 | shuntOhms must be > 0: 0.0",
        "6 | 1e-9 | 1.2 | 0.004 | 34 | 0.02 | -0.003 | 25 | photocurrentTempCoeffPerKelvin must be"
            + " within +-0.01: 0.02",
        "6 | 1e-9 | 1.2 | 0.004 | 34 | 5e-4 | 0 | 25 | vocTempCoeffPerKelvin must be in [-0.01, 0):"
            + " 0.0",
        "6 | 1e-9 | 1.2 | 0.004 | 34 | 5e-4 | -0.011 | 25 | vocTempCoeffPerKelvin must be in [-0.01,"
            + " 0): -0.011",
        "6 | 1e-9 | 1.2 | 0.004 | 34 | 5e-4 | -0.003 | -61 | benchCelsius must be in [-60, 150]:"
            + " -61.0",
        "6 | 1e-9 | 1.2 | 0.004 | 34 | 5e-4 | -0.003 | 151 | benchCelsius must be in [-60, 150]:"
            + " 151.0"
      })
  void parameters(
      double photo,
      double saturation,
      double ideality,
      double series,
      double shunt,
      double iscCoeff,
      double vocCoeff,
      double bench,
      String message) {
    assertEquals(
        message,
        assertThrows(
                IllegalArgumentException.class,
                () ->
                    new CellParameters(
                        photo, saturation, ideality, series, shunt, iscCoeff, vocCoeff, bench))
            .getMessage());
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "0 | 0.683 | 5.7 | 0.574 | 5e-4 | -0.003 | Isc must be > 0 A: 0.0",
        "1e3 | 0.683 | 5.7 | 0.574 | 5e-4 | -0.003 | Isc must be > 0 A: 1000.0",
        "6 | 0 | 5.7 | 0.574 | 5e-4 | -0.003 | Voc must be in (0, 10) V for one cell: 0.0",
        "6 | 10 | 5.7 | 0.574 | 5e-4 | -0.003 | Voc must be in (0, 10) V for one cell: 10.0",
        "6 | 0.683 | 2.4 | 0.574 | 5e-4 | -0.003 | Impp must be below Isc, above 0.4 Isc: 2.4",
        "6 | 0.683 | 6 | 0.574 | 5e-4 | -0.003 | Impp must be below Isc, above 0.4 Isc: 6.0",
        "6 | 0.683 | 5.7 | 0.27 | 5e-4 | -0.003 | Vmpp must be below Voc, above 0.4 Voc: 0.27",
        "6 | 0.683 | 5.7 | 0.683 | 5e-4 | -0.003 | Vmpp must be below Voc, above 0.4 Voc: 0.683",
        "6 | 0.683 | 5.7 | 0.574 | -0.02 | -0.003 | Isc coefficient must be within +-0.01 1/K: -0.02",
        "6 | 0.683 | 5.7 | 0.574 | 5e-4 | 0 | Voc coefficient must be in [-0.01, 0) 1/K: 0.0",
        "6 | 0.683 | 5.7 | 0.574 | 5e-4 | -0.02 | Voc coefficient must be in [-0.01, 0) 1/K: -0.02"
      })
  void sheet(
      double isc,
      double voc,
      double impp,
      double vmpp,
      double iscCoeff,
      double vocCoeff,
      String message) {
    assertEquals(
        message,
        assertThrows(
                IllegalArgumentException.class,
                () -> new DataSheet(isc, voc, impp, vmpp, iscCoeff, vocCoeff))
            .getMessage());
  }

  @Test
  void aDataSheetThatNoCurveFitsIsRefused() {
    DataSheet square = new DataSheet(6, 0.683, 5.99, 0.682, 5e-4, -0.003);
    String message =
        assertThrows(IllegalArgumentException.class, square::toParameters).getMessage();
    assertEquals(
        "no single-diode cell passes through these points: Isc 6.0 A, Voc 0.683 V, Impp 5.99 A,"
            + " Vmpp 0.682 V",
        message);
  }
}
