package org.solarmargin.cli.outlook;

import java.time.Duration;
import java.time.LocalDate;
import java.time.ZoneId;
import java.time.ZonedDateTime;
import java.util.ArrayList;
import java.util.List;
import net.e175.klaus.solarpositioning.DeltaT;
import net.e175.klaus.solarpositioning.SPA;
import net.e175.klaus.solarpositioning.SolarPosition;
import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.estimator.EstimatorSettings;
import org.solarmargin.core.profile.CraftProfile;
import org.solarmargin.sim.air.StandardAtmosphere;
import org.solarmargin.sim.sky.DaySky;

/**
 * Forecast of a craft's margin on a clear day. Sun position by the NREL algorithm (Reda and
 * Andreas, NREL/TP-560-34302); horizontal irradiance by Haurwitz (J. Meteorology 2, 1945: sea
 * level, mid-latitudes, clean air; clear skies in the mountains give more), transposed to the
 * array's plane as in {@link DaySky}; cells warmer than the air by the profile's rise; power at the
 * array's maximum power point.
 */
final class DayOutlook {

  /**
   * Sigma of the logarithm of a clear sky's light against the model: common practice, no source.
   */
  static final double SKY_LOG_SD = 0.05;

  /**
   * Sigma of the cell temperature against the model, K, and the relative loss of power per kelvin:
   * common practice, no source.
   */
  static final double HEAT_SD = 5;

  private static final double PER_KELVIN = 0.004;

  /** Sigma for unequal cells and wiring, as in the estimator. */
  private static final double MODEL_LOG_SD = 0.016;

  /** Quantile of the normal distribution for a one-sided bound at 95 %. */
  static final double ONE_SIDED_95 = 1.6449;

  /** Suns below which the array counts as dark. */
  static final double DARK = 0.01;

  private static final int HALVINGS = 40;

  private final CraftProfile profile;
  private final HoverDemand hover;
  private final Place place;
  private final Weather weather;
  private final Attitude attitude;
  private final SolarArray array;
  private final double lowShare;

  DayOutlook(CraftProfile profile, Place place, Weather weather, Attitude attitude) {
    this.profile = profile;
    this.place = place;
    this.weather = weather;
    this.attitude = attitude;
    hover = new HoverDemand(profile);
    array = profile.settings().newArray();
    EstimatorSettings.Sensors sensors = profile.settings().sensors();
    double heat = HEAT_SD * PER_KELVIN;
    double gain = Math.hypot(sensors.voltageGainSd(), sensors.currentGainSd());
    double variance =
        SKY_LOG_SD * SKY_LOG_SD + heat * heat + MODEL_LOG_SD * MODEL_LOG_SD + gain * gain;
    lowShare = Math.exp(-ONE_SIDED_95 * Math.sqrt(variance));
  }

  /** Position of the sun, without refraction. */
  static SolarPosition sun(Place place, ZonedDateTime time, double deltaT) {
    return SPA.calculateSolarPosition(
        time, place.latitude(), place.longitude(), place.altitude(), deltaT);
  }

  HoverDemand hover() {
    return hover;
  }

  /** Moments of the day at equal steps; the night is left out. */
  List<Moment> day(LocalDate date, ZoneId zone, Duration step) {
    return sky(date, zone, step).stream().map(this::moment).toList();
  }

  /** Light and air at equal steps of the day, independent of the craft; the night is left out. */
  List<SkyMoment> sky(LocalDate date, ZoneId zone, Duration step) {
    List<SkyMoment> moments = new ArrayList<>();
    ZonedDateTime end = date.plusDays(1).atStartOfDay(zone);
    double deltaT = DeltaT.estimate(date);
    for (ZonedDateTime time = date.atStartOfDay(zone); time.isBefore(end); time = time.plus(step)) {
      SkyMoment moment = sky(time, deltaT);
      if (moment.suns() > DARK) {
        moments.add(moment);
      }
    }
    return moments;
  }

  /** The forecast for an instant, by day or night. */
  Moment at(ZonedDateTime time) {
    return moment(sky(time, DeltaT.estimate(time.toLocalDate())));
  }

  private SkyMoment sky(ZonedDateTime time, double deltaT) {
    SolarPosition sun = sun(place, time, deltaT);
    double heading = attitude.followsSun() ? sun.azimuth() : attitude.heading();
    double suns =
        (1 - weather.haze())
            * DaySky.onArray(sun.zenithAngle(), sun.azimuth(), attitude.tilt(), heading);
    double utcHours = time.toInstant().getEpochSecond() % 86_400L / 3600.0;
    double solarHour = (utcHours + place.longitude() / 15 + 24) % 24;
    return new SkyMoment(time, suns, weather.celsius(solarHour));
  }

  /** The forecast for given light and air. */
  Moment moment(SkyMoment sky) {
    return moment(sky.time(), sky.suns(), sky.airCelsius());
  }

  private Moment moment(ZonedDateTime time, double suns, double air) {
    double density = StandardAtmosphere.density(place.altitude(), air);
    double cells = air + profile.settings().thermal().sunRiseKelvin() * suns;
    array.set(Math.max(suns, 1e-3), cells);
    array.solvePeak();
    double watts = array.peakWatts();
    double demand = hover.watts(density, weather.wind());
    double ceiling = watts > demand / 10 ? hover.throttle(watts, array.peakVolts(), density) : 0;
    return new Moment(
        time, suns, air, cells, watts, lowShare * watts, watts / lowShare, demand, ceiling);
  }

  double haze() {
    return weather.haze();
  }

  /** Margin over a hover power for given light and cell temperature, percent. */
  double marginPercent(double suns, double cellCelsius, double hoverWatts) {
    array.set(Math.max(suns, 1e-3), cellCelsius);
    array.solvePeak();
    return 100 * (array.peakWatts() / hoverWatts - 1);
  }

  /** Share of the light that clouds may block before hover becomes impossible. */
  double tolerableCloud(Moment moment) {
    double air = moment.airCelsius();
    double least = 0;
    double most = moment.suns();
    for (int i = 0; i < HALVINGS; i++) {
      double middle = 0.5 * (least + most);
      boolean flies = moment(moment.time(), middle, air).availableWatts() > moment.demandWatts();
      most = flies ? middle : most;
      least = flies ? least : middle;
    }
    return Math.max(1 - most / moment.suns(), 0);
  }
}
