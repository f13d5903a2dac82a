package org.solarmargin.sim.array;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.TimeUnit;
import org.solarmargin.sim.array.ArrayLayout.GroupLayout;
import org.solarmargin.sim.array.ArrayLayout.StringLayout;
import org.solarmargin.sim.array.ArrayLayout.SubstringLayout;

/**
 * Writes the netlist of an array, cell by cell, and solves it with ngspice, including the
 * temperature of its diodes. The diodes are ngspice's own model; only photocurrent, shunt and
 * avalanche are modelled by sources of ours.
 */
final class Ngspice {

  private static final double THERMAL_VOLTS = 1.380649e-23 / 1.602176634e-19 * 298.15;

  private static final double REFERENCE_CELSIUS = 25;

  private final StringBuilder text = new StringBuilder("* array of the simulator\n");
  private final double celsius;
  private final double gapVolts;
  private int parts;

  /** Creates a netlist at 25 degrees Celsius, where the band gap has no effect. */
  Ngspice(ArrayLayout layout, double suns) {
    this(layout, suns, REFERENCE_CELSIUS, 1.2);
  }

  /**
   * Creates a netlist at a temperature.
   *
   * @param gapVolts EG of the cells' diodes, V; their XTI is 3
   */
  Ngspice(ArrayLayout layout, double suns, double celsius, double gapVolts) {
    this.celsius = celsius;
    this.gapVolts = gapVolts;
    line(".options temp=%.9g tnom=25 gmin=1e-15 reltol=1e-6 abstol=1e-12 vntol=1e-9", celsius);
    text.append(
        String.format(
            Locale.ROOT,
            ".model bypass D(IS=%.9g N=%.9g)%n",
            Substring.BYPASS_SATURATION_AMPS,
            Substring.BYPASS_EMISSION_VOLTS / THERMAL_VOLTS));
    int string = 0;
    for (StringLayout one : layout.strings()) {
      String top = "bus";
      int left = one.substrings().size();
      for (SubstringLayout sub : one.substrings()) {
        String bottom = --left == 0 ? "0" : "s" + string + "_" + left;
        substring(sub, top, bottom, suns);
        top = bottom;
      }
      string++;
    }
  }

  static boolean installed() {
    try {
      return new ProcessBuilder("ngspice", "--version").start().waitFor() == 0;
    } catch (IOException e) {
      return false;
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      return false;
    }
  }

  private void substring(SubstringLayout sub, String top, String bottom, double suns) {
    if (sub.bypassed()) {
      text.append("Dby").append(++parts).append(' ').append(bottom).append(' ').append(top);
      text.append(" bypass\n");
    }
    String upper = top;
    int left = sub.groups().stream().mapToInt(GroupLayout::count).sum();
    for (GroupLayout group : sub.groups()) {
      for (int i = 0; i < group.count(); i++) {
        String lower = --left == 0 ? bottom : "c" + ++parts;
        cell(group.cell(), suns * group.lightFactor(), upper, lower);
        upper = lower;
      }
    }
  }

  /**
   * The positive terminal is the upper node, where current flows out through the series resistance.
   */
  private void cell(SimCell c, double light, String plus, String minus) {
    int n = ++parts;
    String d = "d" + n;
    line("Rs%d %s %s %.12g", n, d, plus, c.seriesOhms());
    double warm = 1 + c.photocurrentTempCoeff() * (celsius - REFERENCE_CELSIUS);
    line("Il%d %s %s %.12g", n, minus, d, light * warm * c.photocurrentAmps());
    line("Rp%d %s %s %.12g", n, d, minus, c.shuntOhms() / light);
    String diode = ".model m%d D(IS=%.12g N=%.12g EG=%.9g XTI=3)";
    line(diode, n, c.saturationAmps(), c.ideality(), gapVolts);
    line("D%d %s %s m%d", n, d, minus, n);
    if (c.recombinationAmps() > 0) {
      line(".model r%d D(IS=%.12g N=2 EG=%.9g XTI=3)", n, c.recombinationAmps(), gapVolts);
      line("Dr%d %s %s r%d", n, d, minus, n);
    }
    if (c.breakdownShare() > 0) {
      String v = "v(" + d + "," + minus + ")";
      if (minus.equals("0")) {
        v = "v(" + d + ")";
      }
      line(
          "Bv%d %s %s I = %s < 0 ? %.12g*%s*pow(max(1-%s/(%.12g),1e-4),-(%.12g)) : 0",
          n,
          d,
          minus,
          v,
          c.breakdownShare() * light / c.shuntOhms(),
          v,
          v,
          c.breakdownVolts(),
          c.breakdownExponent());
    }
  }

  private void line(String format, Object... values) {
    text.append(String.format(Locale.ROOT, format, values)).append('\n');
  }

  /** Current out of the array at voltages from 0 to {@code last}: rows of volts and amps. */
  List<double[]> sweep(Path folder, double last, double step)
      throws IOException, InterruptedException {
    String deck =
        text
            + "Vload bus 0 0\n.control\n"
            + String.format(Locale.ROOT, "dc Vload 0 %.9g %.9g%n", last, step)
            + "set wr_vecnames=0\nset wr_singlescale\nset numdgt=12\nwrdata out.txt i(Vload)\nquit\n.endc\n.end\n";
    return run(folder, deck);
  }

  /** Bus voltage over time with a capacitor and a load step at 5 ms: rows of seconds and volts. */
  List<double[]> step(Path folder, double farads, double before, double after)
      throws IOException, InterruptedException {
    String deck =
        text
            + String.format(Locale.ROOT, "Cbus bus 0 %.9g%n", farads)
            + String.format(
                Locale.ROOT,
                "Bload bus 0 I = v(bus) * (time < 5m ? %.9g : %.9g)%n",
                1 / before,
                1 / after)
            + ".control\ntran 10u 60m\nset wr_vecnames=0\nset wr_singlescale\nset numdgt=12\nwrdata out.txt v(bus)\nquit\n.endc\n.end\n";
    return run(folder, deck);
  }

  private static List<double[]> run(Path folder, String deck)
      throws IOException, InterruptedException {
    Path file = Files.writeString(folder.resolve("deck.cir"), deck);
    Process process =
        new ProcessBuilder("ngspice", "-b", file.toString())
            .directory(folder.toFile())
            .redirectErrorStream(true)
            .redirectOutput(folder.resolve("output.txt").toFile())
            .start();
    if (!process.waitFor(60, TimeUnit.SECONDS)) {
      process.destroyForcibly();
      throw new IOException("ngspice does not terminate");
    }
    Path out = folder.resolve("out.txt");
    if (!Files.exists(out)) {
      throw new IOException("ngspice failed: " + Files.readString(folder.resolve("output.txt")));
    }
    List<double[]> rows = new ArrayList<>();
    for (String row : Files.readAllLines(out)) {
      String[] f = row.strip().split("\\s+", -1);
      rows.add(new double[] {Double.parseDouble(f[0]), Double.parseDouble(f[1])});
    }
    return rows;
  }
}
