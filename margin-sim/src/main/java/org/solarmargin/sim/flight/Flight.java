package org.solarmargin.sim.flight;

import java.util.Random;
import org.solarmargin.sim.air.Air;
import org.solarmargin.sim.air.DiscreteGust;
import org.solarmargin.sim.air.DrydenGust;
import org.solarmargin.sim.air.SingleGust;
import org.solarmargin.sim.air.StandardAtmosphere;
import org.solarmargin.sim.array.SimArray;
import org.solarmargin.sim.craft.Airframe;
import org.solarmargin.sim.craft.MotorController;
import org.solarmargin.sim.craft.Propulsion;
import org.solarmargin.sim.heat.CellHeat;
import org.solarmargin.sim.sensor.BusSensors;

/**
 * Simulates one flight from start to end in closed loop: light and heat change the array's curve,
 * the height control sets the throttle, the bus settles, and rotors and craft respond.
 *
 * <p>The step is fixed, 5 ms or shorter; the height control runs at 50 Hz. The same setup and seed
 * give the same bits on every machine. Noise, drag and control constants are engineering judgement,
 * not tuned.
 */
public final class Flight {

  /** Longest step of the physics, s. */
  public static final double LONGEST_STEP = 0.005;

  private static final double CONTROL_SECONDS = 0.02;
  private static final double PEAK_SEARCH_SECONDS = 0.5;
  private static final double HEIGHT_NOISE = 0.02;
  private static final double CLIMB_NOISE = 0.05;
  private static final double GUST_HEIGHT = 10;
  private static final double DRAG_PER_SPEED = 0.15;
  private static final double KELVIN = 273.15;

  private final FlightSetup setup;
  private final Air air;
  private final double step;
  private final Random loopNoise;
  private final SimArray array;
  private final Propulsion propulsion;
  private final BusSolver bus;
  private final CellHeat heat = new CellHeat();
  private final DrydenGust gust;
  private final BusSensors sensors;
  private final Random sampleNoise;
  private final HeightLoop loop;
  private final MotorController controller;
  private final LoggedThrottle logged;
  private final double density;
  private final FlightSample sample = new FlightSample();

  private double height;
  private double climb;
  private double throttle;
  private double acting;
  private double celsius;
  private boolean stopped;
  private boolean stringLost;
  private double lastPeakSearch = Double.NEGATIVE_INFINITY;

  /**
   * Creates a flight ready to start: on the ground, or in hover if its plan starts in the air.
   *
   * @param setup the setup of the flight
   * @param seed seed of all random numbers
   */
  public Flight(FlightSetup setup, long seed) {
    this(setup, seed, LONGEST_STEP);
  }

  /**
   * Creates a flight with another step, to show that the result does not depend on it.
   *
   * @param setup the setup of the flight
   * @param seed seed of all random numbers
   * @param longestStep s, at most {@link #LONGEST_STEP}
   */
  public Flight(FlightSetup setup, long seed, double longestStep) {
    this.setup = setup;
    air = setup.air();
    Random seeds = new Random(seed);
    Random gustNoise = new Random(seeds.nextLong());
    loopNoise = new Random(seeds.nextLong());
    Random sensorNoise = new Random(seeds.nextLong());
    sampleNoise = new Random(seeds.nextLong());
    Random channelNoise = new Random(seeds.nextLong());
    double wanted = Math.min(longestStep, 1 / setup.log().sampleHertz());
    step = CONTROL_SECONDS / Math.ceil(CONTROL_SECONDS / wanted - 1e-9);
    Airframe frame = setup.airframe();
    density = StandardAtmosphere.density(air.siteMetres(), air.celsius());
    array = new SimArray(setup.layout());
    propulsion = new Propulsion(frame);
    gust = new DrydenGust(GUST_HEIGHT, air.wind(), air.wind20(), CONTROL_SECONDS, gustNoise);
    sensors =
        new BusSensors(setup.sensors(), step, setup.log().sampleHertz(), sensorNoise, channelNoise);
    height = setup.plan().height(0);
    double trim = frame.hoverThrottle();
    throttle = height > 0 ? trim : HeightLoop.IDLE_THROTTLE;
    loop = new HeightLoop(trim, throttle);
    controller = new MotorController(setup.command(), step, throttle);
    logged = new LoggedThrottle(setup.log(), trim);
    if (height > 0) {
      propulsion.settleInHover(density);
    }
    warm(0);
    light(0);
    bus = new BusSolver(array, propulsion, frame.housekeepingWatts());
    bus.solve(throttle);
  }

  /**
   * Flies to the end of the plan.
   *
   * @param watcher receives every sample
   */
  public void fly(FlightWatcher watcher) {
    double end = setup.plan().seconds();
    int perControl = (int) Math.round(CONTROL_SECONDS / step);
    double nextSample = 0;
    long sampleCount = 0;
    double cap = 1;
    long steps = Math.round(end / step);
    for (long i = 0; i <= steps; i++) {
      double time = i * step;
      if (i % perControl == 0) {
        gust.step();
        control(time, logged.command(cap));
        warm(time);
      }
      events(time);
      light(time);
      acting = controller.follow(throttle);
      bus.solve(acting);
      sensors.follow(bus.volts(), bus.amps());
      if (time >= nextSample - 1e-9) {
        record(time);
        cap = watcher.onSample(sample);
        sampleCount++;
        double jitter = setup.sensors().faults().jitterSeconds() * sampleNoise.nextGaussian();
        nextSample = Math.max(sampleCount / setup.log().sampleHertz() + jitter, time + 0.5 * step);
      }
      move(time);
    }
  }

  private void control(double time, double cap) {
    double wanted = setup.plan().height(time);
    double seenHeight = height + HEIGHT_NOISE * loopNoise.nextGaussian();
    double seenClimb = climb + CLIMB_NOISE * loopNoise.nextGaussian();
    ThrottleRamp ramp = setup.plan().ramp();
    if (stopped) {
      throttle = loop.rest(CONTROL_SECONDS, 0);
    } else if (ramp.present()) {
      throttle = loop.rest(CONTROL_SECONDS, ramp.throttle(time, HeightLoop.IDLE_THROTTLE));
    } else if (wanted <= 0 && height < 0.05) {
      throttle = loop.rest(CONTROL_SECONDS, HeightLoop.IDLE_THROTTLE);
    } else {
      throttle = loop.step(CONTROL_SECONDS, wanted, seenHeight, seenClimb, cap);
    }
  }

  private void events(double time) {
    if (!stringLost && time >= setup.stringLostSeconds()) {
      stringLost = true;
      array.loseString();
      lastPeakSearch = Double.NEGATIVE_INFINITY;
    }
  }

  private void light(double time) {
    sample.suns = setup.sky().suns(time);
    array.set(sample.suns, celsius + KELVIN, time);
  }

  /** The cells are slow, so their temperature is updated with each control step. */
  private void warm(double time) {
    double steady = air.wind() + air.downwash() * Math.min(throttleShare(), 1);
    double speed = Math.max(steady + air.cooling().speed(time), 0);
    celsius = heat.step(CONTROL_SECONDS, setup.sky().suns(time), air.celsius(), speed);
  }

  /**
   * Downwash is proportional to the root of the thrust; with idle rotors the cells have only the
   * wind.
   */
  private double throttleShare() {
    double share = propulsion.thrustNewtons() / setup.airframe().weightNewtons();
    return Math.sqrt(Math.max(share, 0));
  }

  private void move(double time) {
    SingleGust one = air.gust();
    double single =
        one.peak() * DiscreteGust.wave(time - one.startSeconds(), 0.5 * one.lengthSeconds(), 1);
    double rising = height > 0.3 ? gust.upMetresPerSecond() - single : 0;
    double inflow = climb - rising;
    double cross = air.wind() + gust.alongMetresPerSecond();
    propulsion.step(step, bus.volts(), acting, density, inflow, cross);
    Airframe frame = setup.airframe();
    double drag = DRAG_PER_SPEED * inflow * Math.abs(inflow);
    double force = propulsion.thrustNewtons() - frame.weightNewtons() - drag;
    if (!setup.plan().ramp().present()) {
      climb += force / frame.massKilograms() * step;
      height += climb * step;
    }
    if (height <= 0) {
      stopped |= climb < -3 || (time > 1 && bus.volts() < frame.brownoutVolts());
      height = 0;
      climb = Math.max(climb, 0);
    }
    stopped |= bus.volts() < frame.brownoutVolts();
  }

  private void record(double time) {
    sample.seconds = time;
    sample.missing = !sensors.read(time);
    sample.busVolts = sensors.volts();
    sample.busAmps = sensors.amps();
    sample.throttle = logged.logged(throttle);
    sample.demandWatts = bus.volts() * bus.amps();
    sample.trueVolts = bus.volts();
    if (time - lastPeakSearch >= PEAK_SEARCH_SECONDS) {
      array.solveFirstPeak();
      lastPeakSearch = time;
    } else {
      array.followPeak();
    }
    sample.availableWatts = array.peakWatts();
    sample.peakVolts = array.peakVolts();
    sample.cellCelsius = celsius;
    sample.heightMetres = height;
    double motors = array.peakWatts() - setup.airframe().housekeepingWatts();
    sample.ceiling =
        logged.curved(propulsion.throttleFor(motors, array.peakVolts(), density, air.wind()));
  }
}
