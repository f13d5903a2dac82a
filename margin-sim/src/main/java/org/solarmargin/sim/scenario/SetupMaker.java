package org.solarmargin.sim.scenario;

import java.io.IOException;
import java.time.ZonedDateTime;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Random;
import org.solarmargin.core.estimator.EstimatorSettings;
import org.solarmargin.core.profile.CraftProfile;
import org.solarmargin.sim.air.Air;
import org.solarmargin.sim.air.CoolingGusts;
import org.solarmargin.sim.array.ArrayLayout;
import org.solarmargin.sim.array.ArrayLayout.GroupLayout;
import org.solarmargin.sim.array.ArrayLayout.StringLayout;
import org.solarmargin.sim.array.ArrayLayout.SubstringLayout;
import org.solarmargin.sim.array.SimCell;
import org.solarmargin.sim.craft.Airframe;
import org.solarmargin.sim.flight.FlightSetup;
import org.solarmargin.sim.scenario.Scenario.CraftSpec;
import org.solarmargin.sim.scenario.Scenario.Variation;
import org.solarmargin.sim.sensor.ChannelErrors;
import org.solarmargin.sim.sensor.SensorErrors;
import org.solarmargin.sim.sky.BrokenSky;
import org.solarmargin.sim.sky.CloudSky;
import org.solarmargin.sim.sky.DaySky;
import org.solarmargin.sim.sky.RampSky;
import org.solarmargin.sim.sky.RecordedSky;
import org.solarmargin.sim.sky.Sky;

/** Creates the setups of a scenario's flights: as stated, or varied at random for a trial. */
public final class SetupMaker {

  private static final double SHORTEST_COOLING_SECONDS = 5;
  private static final double LONGEST_COOLING_SECONDS = 60;

  private final Scenario scenario;
  private final CraftProfile profile;
  private final RecordedSky recording;

  /**
   * Creates a maker.
   *
   * @param scenario the scenario
   * @param profile the craft that flies it
   * @throws IOException if a recording cannot be read
   */
  public SetupMaker(Scenario scenario, CraftProfile profile) throws IOException {
    this.scenario = scenario;
    this.profile = profile;
    this.recording =
        scenario.sky().kind() == SkySpec.Kind.RECORDING
            ? Recording.read(scenario.sky().file())
            : null;
  }

  /**
   * The scenario as stated; the seed determines the layout of a broken sky.
   *
   * @param seed seed of the layout
   * @return the setup
   */
  public FlightSetup asStated(long seed) {
    return make(new Random(seed), 0);
  }

  /**
   * The scenario with random variation.
   *
   * @param seed seed of the variation and the layout
   * @return the setup
   */
  public FlightSetup varied(long seed) {
    return make(new Random(seed), 1);
  }

  private FlightSetup make(Random random, double amount) {
    Variation v = scenario.variation();
    double light = factor(random, amount * v.weather().lightSd());
    double depth = factor(random, amount * v.weather().depthSd());
    double time = factor(random, amount * v.weather().timeSd());
    double warmer = amount * v.weather().airSdCelsius() * random.nextGaussian();
    double mass = factor(random, amount * v.craft().massSd());
    double series = factor(random, amount * v.craft().seriesSd());
    double calibration = v.calibration() ? amount : 0;
    SensorErrors sensors = sensors(random, calibration);
    Sky sky = sky(light, depth, time, new Random(random.nextLong()));
    double vocCoeff = amount * v.craft().vocCoeffSd() * random.nextGaussian();
    FlightSetup setup =
        new FlightSetup(
            layout(series, vocCoeff),
            scenario.array().wiring().stringLostSeconds(),
            airframe(mass),
            scenario.craft().command(),
            scenario.plan(),
            sky,
            air(warmer, amount, random),
            sensors,
            scenario.log());
    return amount > 0 && v.logger() ? new LoggerDraw(random).drawn(setup) : setup;
  }

  /** Cooling gusts with a random phase and, in a trial, a random period of 5 to 60 s. */
  private Air air(double warmer, double amount, Random random) {
    Air air = scenario.air().warmer(warmer);
    CoolingGusts stated = air.cooling();
    if (amount == 0 || stated.amplitude() == 0) {
      return air;
    }
    double phase = 2 * Math.PI * random.nextDouble();
    double ratio = LONGEST_COOLING_SECONDS / SHORTEST_COOLING_SECONDS;
    double period = SHORTEST_COOLING_SECONDS * StrictMath.pow(ratio, random.nextDouble());
    return air.withCooling(new CoolingGusts(stated.amplitude(), period, phase));
  }

  private static double factor(Random random, double sd) {
    double gaussian = Math.min(Math.max(random.nextGaussian(), -2.5), 2.5);
    return StrictMath.exp(sd * gaussian);
  }

  private SensorErrors sensors(Random random, double amount) {
    SensorErrors stated = scenario.sensors();
    EstimatorSettings.Sensors sigma = profile.settings().sensors();
    double voltageGain = amount * sigma.voltageGainSd() * random.nextGaussian();
    double currentGain = amount * sigma.currentGainSd() * random.nextGaussian();
    double offset = amount * sigma.currentOffsetSdAmps() * random.nextGaussian();
    return new SensorErrors(
        calibrated(stated.volts(), voltageGain, 0),
        calibrated(stated.amps(), currentGain, offset),
        stated.faults());
  }

  private static ChannelErrors calibrated(ChannelErrors stated, double gain, double offset) {
    return new ChannelErrors(
        stated.gain() * (1 + gain),
        stated.offset() + offset,
        stated.noise(),
        stated.timing(),
        stated.roundingStep());
  }

  private Sky sky(double light, double depthFactor, double timeFactor, Random random) {
    SkySpec s = scenario.sky();
    double suns = s.suns() * light;
    SkySpec.Ramps ramps = s.ramps();
    SkySpec.Clouds clouds = s.clouds();
    double depth = Math.min(clouds.depth() * depthFactor, 0.98);
    double seconds = scenario.plan().seconds();
    return switch (s.kind()) {
      case CONSTANT -> time -> suns;
      case RAMPS ->
          new RampSky(
              ramps.lowSuns() * light,
              suns,
              ramps.sunsPerSecond() * timeFactor,
              ramps.repeats() == 0 ? 1e9 : ramps.dwellSeconds(),
              Math.max(ramps.repeats(), 1),
              s.startSeconds(),
              true);
      case CLOUD ->
          new CloudSky(
              suns,
              depth,
              s.startSeconds(),
              clouds.lengthMetres(),
              clouds.edgeMetres(),
              clouds.speed() * timeFactor,
              clouds.enhancement());
      case BROKEN ->
          new BrokenSky(
              suns,
              clouds.cover(),
              depth,
              clouds.edgeMetres(),
              clouds.speed() * timeFactor,
              clouds.enhancement(),
              seconds,
              random);
      case DAY -> {
        SkySpec.Day d = s.day();
        Sky day =
            new DaySky(
                ZonedDateTime.parse(d.start()), seconds, d.latitude(), d.longitude(), d.attitude());
        yield time -> light * day.suns(time);
      }
      case RECORDING -> time -> light * recording.suns(time);
    };
  }

  private Airframe airframe(double massFactor) {
    EstimatorSettings.Rotor rotor = profile.settings().rotor();
    CraftSpec craft = scenario.craft();
    HoverSizing sizing = HoverSizing.of(profile, craft.motor());
    double brownout = Double.isNaN(profile.brownoutVolts()) ? 0 : profile.brownoutVolts();
    return new Airframe(
        sizing.kilograms() * craft.massFactor() * massFactor,
        profile.rotors(),
        stated(craft.rotor().diameterMetres(), sizing.diameterMetres()),
        craft.rotor().thrustCoefficient(),
        stated(craft.rotor().figureOfMerit(), sizing.figureOfMerit()),
        rotor.hoverThrottle(),
        rotor.hoverBusVolts(),
        craft.motor().copperShare(),
        craft.motor().noLoadShare(),
        craft.motor().driveEfficiency(),
        craft.motor().motorSeconds(),
        rotor.housekeepingWatts(),
        brownout);
  }

  /**
   * The assumption that replaces a mass if the profile states none.
   *
   * @return a sentence for display; empty if the profile states the mass
   */
  public Optional<String> assumption() {
    if (!Double.isNaN(profile.massKilograms())) {
      return Optional.empty();
    }
    HoverSizing sizing = HoverSizing.of(profile, scenario.craft().motor());
    return Optional.of(
        String.format(
            Locale.ROOT,
            "Assumed: a mass of %.3g kg with rotors of %.3g m, because the profile has no"
                + " craft.mass_kg.",
            sizing.kilograms(),
            sizing.diameterMetres()));
  }

  private static double stated(double value, double otherwise) {
    return Double.isNaN(value) ? otherwise : value;
  }

  private ArrayLayout layout(double seriesFactor, double vocCoeffShift) {
    EstimatorSettings settings = profile.settings();
    ArraySpec a = scenario.array();
    SimCell good =
        SimCell.of(settings.cell())
            .withShiftedVocCoeff(vocCoeffShift, settings.cell().benchCelsius())
            .aged(
                a.all().photocurrent(),
                1,
                a.all().series() * seriesFactor,
                a.all().recombinationAmps());
    SimCell odd = good.aged(a.odd().photocurrent(), a.odd().shunt(), 1, 0);
    List<StringLayout> strings = new ArrayList<>();
    for (int i = 0; i < settings.parallelStrings(); i++) {
      double light = i == 0 ? a.wiring().weakString() : 1;
      strings.add(string(good, odd, settings.seriesCells(), light));
    }
    return new ArrayLayout(strings, a.wiring().blocking());
  }

  private StringLayout string(SimCell good, SimCell odd, int cells, double light) {
    ArraySpec a = scenario.array();
    int per = a.wiring().bypassEvery() > 0 ? Math.min(a.wiring().bypassEvery(), cells) : cells;
    int oddLeft = Math.min(a.odd().cells(), cells);
    int otherLeft = Math.min(a.others().cells(), cells - oddLeft);
    List<SubstringLayout> substrings = new ArrayList<>();
    for (int left = cells; left > 0; left -= per) {
      int here = Math.min(per, left);
      int oddHere = Math.min(oddLeft, here);
      int otherHere = Math.min(otherLeft, here - oddHere);
      oddLeft -= oddHere;
      otherLeft -= otherHere;
      List<GroupLayout> groups = new ArrayList<>();
      if (oddHere > 0) {
        groups.add(
            new GroupLayout(
                odd, oddHere, light * a.odd().light(), a.odd().temperature(), a.odd().shadow()));
      }
      if (otherHere > 0) {
        groups.add(
            new GroupLayout(good, otherHere, light * a.others().light(), a.others().temperature()));
      }
      if (here > oddHere + otherHere) {
        groups.add(new GroupLayout(good, here - oddHere - otherHere, light, 0));
      }
      substrings.add(new SubstringLayout(groups, a.wiring().bypassEvery() > 0));
    }
    return new StringLayout(substrings);
  }
}
