package org.solarmargin.core.profile;

import org.solarmargin.core.cell.CellParameters;
import org.solarmargin.core.cell.DataSheet;
import org.solarmargin.core.estimator.EstimatorSettings.CellSpread;

/** The keys of a craft profile that describe the cell and the uncertainty of its parameters. */
final class CellKeys {

  private static final String[] SHEET = {"cell.isc_a", "cell.voc_v", "cell.impp_a", "cell.vmpp_v"};
  private static final String[] MODEL = {
    "cell.photocurrent_a", "cell.saturation_a", "cell.ideality", "cell.series_ohm", "cell.shunt_ohm"
  };
  private static final String VOC_COEFF = "cell.voc_temp_coeff_pct_per_c";
  private static final double REFERENCE_CELSIUS = 25;

  private final StrictProperties in;
  private final double iscCoeff;
  private final double vocCoeff;
  private final double vocCoeffSd;
  private final double benchCelsius;
  private final CellParameters parameters;
  private final double seriesSdPercent;
  private final double idealitySdPercent;

  CellKeys(StrictProperties in) {
    this.in = in;
    iscCoeff =
        in.number(
                "cell.isc_temp_coeff_pct_per_c",
                -1,
                1,
                100 * DataSheet.DEFAULT_ISC_TEMP_COEFF_PER_KELVIN)
            / 100;
    double usualSd =
        in.has(VOC_COEFF) ? CellSpread.STATED_VOC_COEFF_SD : CellSpread.UNSTATED_VOC_COEFF_SD;
    vocCoeff =
        in.number(VOC_COEFF, -1, -0.05, 100 * DataSheet.DEFAULT_VOC_TEMP_COEFF_PER_KELVIN) / 100;
    vocCoeffSd = in.number("cell.voc_temp_coeff_sd_pct_per_c", 0, 0.5, 100 * usualSd) / 100;
    benchCelsius = in.number("cell.bench_c", -50, 130, REFERENCE_CELSIUS);
    parameters = readParameters();
    CellSpread usual = CellSpread.DEFAULT;
    seriesSdPercent = in.number("cell.series_ohm_sd_pct", 0, 100, 100 * usual.seriesLogSd());
    idealitySdPercent = in.number("cell.ideality_sd_pct", 0, 100, 100 * usual.idealityLogSd());
  }

  /** The cell at reference conditions; null if the keys are faulty. */
  CellParameters parameters() {
    return parameters;
  }

  /** The uncertainty of the cell; only if no key is faulty. */
  CellSpread spread() {
    return new CellSpread(seriesSdPercent / 100, idealitySdPercent / 100, vocCoeffSd);
  }

  private CellParameters readParameters() {
    boolean sheetStarted = in.hasAny(SHEET);
    boolean modelStarted = in.hasAny(MODEL);
    if (sheetStarted == modelStarted) {
      in.fault(
          "describe the cell by "
              + String.join(", ", SHEET)
              + " or by "
              + String.join(", ", MODEL)
              + (sheetStarted ? ", not both" : ""));
      return null;
    }
    try {
      return sheetStarted ? ofSheet() : ofModel();
    } catch (IllegalArgumentException e) {
      in.fault("no such cell is possible: " + e.getMessage());
      return null;
    }
  }

  private CellParameters ofSheet() {
    double isc = in.number(SHEET[0], 1e-4, 1e3);
    double voc = in.number(SHEET[1], 1e-3, 10);
    double impp = in.number(SHEET[2], 1e-4, 1e3);
    double vmpp = in.number(SHEET[3], 1e-3, 10);
    return StrictProperties.complete(isc, voc, impp, vmpp) && coefficientsKnown()
        ? new DataSheet(isc, voc, impp, vmpp, iscCoeff, vocCoeff)
            .toParameters()
            .withVocTempCoeff(vocCoeff, benchCelsius)
        : null;
  }

  private CellParameters ofModel() {
    double photocurrent = in.number(MODEL[0], 1e-4, 1e3);
    double saturation = in.number(MODEL[1], 1e-30, 1);
    double ideality = in.number(MODEL[2], 0.3, 5);
    double seriesOhms = in.number(MODEL[3], 0, 100);
    double shuntOhms = in.number(MODEL[4], 1e-3, 1e12);
    return StrictProperties.complete(photocurrent, saturation, ideality, seriesOhms, shuntOhms)
            && coefficientsKnown()
        ? new CellParameters(
            photocurrent,
            saturation,
            ideality,
            seriesOhms,
            shuntOhms,
            iscCoeff,
            vocCoeff,
            benchCelsius)
        : null;
  }

  private boolean coefficientsKnown() {
    return StrictProperties.complete(iscCoeff, vocCoeff, benchCelsius);
  }
}
