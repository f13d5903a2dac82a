package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.solarmargin.core.timing.ChannelTiming;
import org.solarmargin.core.timing.TimeModel;

/** A change of the light moves the readings along the motors' load line, a sensor does not. */
class LoadLineTest {

  private static final double LARGE = 30;

  /** A flight whose readings pass first-order filters and are then scaled. */
  private static final class Rig {
    private final AlignedFilter aligned;
    private final TestFlight flight;
    private final LoggedFlight logged;

    Rig(DoubleUnaryOperator light, double filterSeconds) {
      ChannelTiming channel = new ChannelTiming(filterSeconds, 0, 0, 0.01);
      TimeModel model = new TimeModel(channel, channel, 0, 0, true, TimeModel.Source.STATED);
      aligned = new AlignedFilter(TestCraft.SETTINGS.withTiming(model), model);
      flight = new TestFlight(light, t -> 0.5, 50, 3);
      logged = new LoggedFlight(flight, filterSeconds, filterSeconds, 0, 0, 1, 0);
    }

    HiddenStateFilter next(double voltScale, double ampScale) {
      logged.next();
      long nanos = logged.nanos();
      aligned.command(nanos, flight.throttle);
      aligned.reading(nanos, voltScale * logged.busVolts, ampScale * logged.busAmps, Double.NaN);
      assertTrue(aligned.predict());
      aligned.correct(false);
      return aligned.filter();
    }

    void settle() {
      for (int i = 0; i < 500; i++) {
        assertFalse(next(1, 1).offLoadLine(), "at " + flight.seconds);
      }
    }
  }

  /** Light that drops by 40 % or doubles within a sample. */
  @ParameterizedTest
  @CsvSource({"0.55, 0", "1.8, 0", "0.5, 0.2"})
  void aStepOfTheLightStaysOnIt(double suns, double filterSeconds) {
    Rig rig = new Rig(t -> t < 10 ? 0.9 : suns, filterSeconds);
    rig.settle();
    double largest = 0;
    for (int i = 0; i < 50; i++) {
      HiddenStateFilter filter = rig.next(1, 1);
      largest = Math.max(largest, filter.outlierSize());
      assertFalse(filter.offLoadLine(), "at " + rig.flight.seconds);
    }
    assertTrue(largest > LARGE, "an outlier: " + largest);
  }

  @ParameterizedTest
  @CsvSource({"1, 2, 0", "1, 0.4, 0", "1.2, 1, 0", "0.9, 1.2, 0", "1.2, 1, 0.2"})
  void aWrongScaleLeavesIt(double voltScale, double ampScale, double filterSeconds) {
    Rig rig = new Rig(t -> 0.9, filterSeconds);
    rig.settle();
    HiddenStateFilter filter = rig.next(voltScale, ampScale);
    assertTrue(filter.outlierSize() > LARGE);
    assertTrue(filter.offLoadLine());
  }

  /** In steady flight the motors draw what the propellers take: I = u C E^2. */
  @ParameterizedTest
  @ValueSource(doubles = {0.3, 0.5, 0.9})
  void theSteadyCurrentIsThatOfThePropellers(double throttle) {
    double house = 3.5;
    OperatingPoint point = new OperatingPoint(TestCraft.SETTINGS.newArray(), house);
    double[] x = new double[State.SIZE];
    double ohms = 0.17;
    double propulsion = 0.0275;
    x[State.WINDING] = Math.log(ohms);
    x[State.PROPULSION] = Math.log(propulsion);
    double volts = 28;
    double amps = point.steadyAmps(x, throttle, volts);
    double winding = (amps - house / volts) / throttle;
    double emf = throttle * volts - winding * ohms;
    assertEquals(propulsion * emf * emf, winding, 1e-9 * winding);
    // a given rotor speed, and one above the winding's voltage
    x[State.EMF] = emf + 0.1;
    assertEquals(
        throttle * (winding - 0.1 / ohms) + house / volts,
        point.loadAmps(x, throttle, volts),
        1e-9);
    x[State.EMF] = throttle * volts + 1;
    assertEquals(house / volts, point.loadAmps(x, throttle, volts), 1e-12);
  }
}
