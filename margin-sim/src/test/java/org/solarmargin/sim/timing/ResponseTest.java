package org.solarmargin.sim.timing;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.Arrays;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;

class ResponseTest {

  private static final double STEP = 0.005;
  private static final double[] INPUT = {
    1, 3, 3, 2, 5, 5, 4, 0, 0, 1, 7, 6, 6, 6, 2, 2, 2, 2, 2, 2
  };

  /** SciPy prints twelve decimals. */
  private static final double PRINTED = 1e-12;

  private static double[] run(Response response, double... input) {
    return Arrays.stream(input).map(response::follow).toArray();
  }

  /** SciPy 1.17.1, signal.lsim(([1], [T, 1]), x - 1, t, interp=False) + 1. */
  @Test
  void theFirstOrderFilterIsTheExactSolutionForHeldInput() {
    double[] fast = {
      1.000000000000, 1.000000000000, 1.681518739599, 2.130803582986, 2.086231036480,
      3.079125112231, 3.733681228451, 3.824431845210, 2.521220859795, 1.662091228486,
      1.436477438717, 3.332299880565, 4.241343692078, 4.840622307260, 5.235691119197,
      4.133099052554, 3.406225563685, 2.927041026808, 2.611143110735, 2.402890369463
    };
    double[] slow = {
      1.000000000000, 1.000000000000, 1.121173874373, 1.235006194831, 1.281354826453,
      1.506656148001, 1.718307152533, 1.856547933762, 1.744065380715, 1.638397801045,
      1.599719233573, 1.926905705158, 2.173682013354, 2.405506900867, 2.623286228481,
      2.585523224907, 2.550048166058, 2.516722432372, 2.485415802819, 2.456005946064
    };
    assertArrayEquals(fast, run(Response.of(FilterShape.FIRST_ORDER, 0.012, STEP), INPUT), PRINTED);
    assertArrayEquals(slow, run(Response.of(FilterShape.FIRST_ORDER, 0.08, STEP), INPUT), PRINTED);
  }

  /** SciPy 1.17.1, signal.lsim(([1], [T T, 2 T, 1]), x - 1, t, interp=False) + 1. */
  @Test
  void theSecondOrderFilterIsTheExactSolutionForHeldInput() {
    double[] fast = {
      1.000000000000, 1.000000000000, 1.132151547765, 1.406473235474, 1.644652640246,
      1.987654155444, 2.486506405574, 2.929090131177, 2.981483915572, 2.658053347303,
      2.274921733048, 2.356828042450, 2.865499561142, 3.450535916682, 4.000827657372,
      4.207818157666, 4.041410751830, 3.732048005038, 3.396479381185, 3.088486934590
    };
    double[] slow = {
      1.000000000000, 1.000000000000, 1.003747241521, 1.014381969185, 1.029182223561,
      1.051427920011, 1.085554005631, 1.128165607886, 1.168817595359, 1.200402379692,
      1.225743065400, 1.258519214168, 1.306646138545, 1.366346255447, 1.436040533093,
      1.506804311446, 1.571063538028, 1.629346636530, 1.682141876257, 1.729900298063
    };
    assertArrayEquals(
        fast, run(Response.of(FilterShape.SECOND_ORDER, 0.012, STEP), INPUT), PRINTED);
    assertArrayEquals(slow, run(Response.of(FilterShape.SECOND_ORDER, 0.08, STEP), INPUT), PRINTED);
  }

  /** After a step from 0 to 1 at t = 0: closed forms, for any step of the simulator. */
  @ParameterizedTest
  @CsvSource({"0.005, 0.08", "0.0025, 0.08", "0.001, 0.3", "0.005, 0.002", "0.005, 0.083"})
  void stepResponsesAreTheClosedForms(double step, double seconds) {
    Response first = Response.of(FilterShape.FIRST_ORDER, seconds, step);
    Response second = Response.of(FilterShape.SECOND_ORDER, seconds, step);
    Response average = Response.of(FilterShape.AVERAGE, seconds, step);
    for (Response response : new Response[] {first, second, average}) {
      assertEquals(0, response.follow(0));
    }
    for (int i = 0; i < 500; i++) {
      double x = i * step / seconds;
      assertEquals(1 - Math.exp(-x), first.follow(1), 1e-12, "first order, step " + i);
      assertEquals(1 - (1 + x) * Math.exp(-x), second.follow(1), 1e-12, "second order, step " + i);
      assertEquals(Math.min(x, 1), average.follow(1), 1e-12, "average, step " + i);
    }
  }

  /** The running integral does not lose accuracy over hours of flight. */
  @Test
  void theAverageStaysExactAfterFourHours() {
    Response average = Response.of(FilterShape.AVERAGE, 0.0325, STEP);
    int steps = (int) Math.round(4 * 3600 / STEP);
    double last = 0;
    for (int i = 0; i <= steps; i++) {
      last = average.follow(i % 4000 == 0 ? 24 : 30 + i % 7);
    }
    // inputs of the seven steps before the last one, the oldest one half inside the window
    double expected = 0;
    for (int i = steps - 6; i < steps; i++) {
      expected += (30 + i % 7) * STEP;
    }
    expected += (30 + (steps - 7) % 7) * 0.5 * STEP;
    assertEquals(expected / 0.0325, last, 1e-7);
  }

  @ParameterizedTest
  @EnumSource(FilterShape.class)
  void aFilterStartsInSteadyStateAndKeepsIt(FilterShape shape) {
    Response response = Response.of(shape, 0.1, STEP);
    for (int i = 0; i < 100; i++) {
      assertEquals(29.3, response.follow(29.3), 1e-12);
    }
  }

  @ParameterizedTest
  @EnumSource(FilterShape.class)
  void noFilterReturnsTheInputExactly(FilterShape shape) {
    assertArrayEquals(INPUT, run(Response.of(shape, 0, STEP), INPUT));
  }
}
