package org.solarmargin.cli.report;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import com.deque.html.axecore.results.Rule;
import com.deque.html.axecore.selenium.AxeBuilder;
import java.io.IOException;
import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.openqa.selenium.By;
import org.openqa.selenium.Keys;
import org.solarmargin.cli.Cli;
import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.profile.CraftProfile;

/** The pages in a browser, as a pilot uses them. */
class PagesTest {

  private static final Path FLIGHTS = Cli.EXAMPLES.resolve("flights");
  private static final int PHONE = 360;
  private static final int DESK = 1200;

  @TempDir private static Path folder;
  private static Browser browser;

  @BeforeAll
  static void makePages() throws IOException {
    assumeTrue(Browser.there(), "Debian packages chromium and chromium-driver are not installed");
    replay("lost", FLIGHTS.resolve("slow-fade.csv"));
    replay("survived", FLIGHTS.resolve("cloud-passage.csv"));
    assertEquals(
        0, Cli.run("tune", FLIGHTS, "--craft", Cli.STILT, "--report", page("tune")).status);
    assertEquals(
        0,
        Cli.run(
                "trial",
                Cli.EXAMPLES.resolve("scenarios/slow-fade.properties"),
                "--craft",
                Cli.STILT,
                "--flights",
                4,
                "--limiter",
                "both",
                "--report",
                page("trial"))
            .status);
    assertEquals(
        0,
        Cli.run(
                "fit",
                "array",
                Cli.EXAMPLES.resolve("bench/array-sweep.csv"),
                "--series",
                48,
                "--irradiance",
                910,
                "--cell-c",
                41,
                "--report",
                page("fit"))
            .status);
    assertEquals(
        0,
        Cli.run(
                "outlook",
                "--craft",
                Cli.STILT,
                "--at=53.7,7.7",
                "--date=2026-06-21",
                "--air-c=12,19",
                "--season",
                "--report",
                page("outlook"))
            .status);
    logbook();
    browser = new Browser();
  }

  @AfterAll
  static void quit() {
    if (browser != null) {
      browser.close();
    }
  }

  /** Four mornings of one flight. */
  private static void logbook() throws IOException {
    Path logs = Files.createDirectory(folder.resolve("logs"));
    String flight = Files.readString(FLIGHTS.resolve("cloud-passage.csv"));
    for (int day = 1; day <= 4; day++) {
      Files.writeString(
          logs.resolve("day" + day + ".csv"), "# start: 2026-06-0" + day + "T10:00:00Z\n" + flight);
    }
    Cli run =
        Cli.run(
            "logbook", logs, "--craft", Cli.STILT, "--at=53.7,7.7", "--report", page("logbook"));
    assertEquals(0, run.status, run.err);
  }

  private static Path page(String name) {
    return folder.resolve(name + ".html");
  }

  private static void replay(String name, Path log) {
    Cli run =
        Cli.run(
            "replay",
            log,
            "--craft",
            Cli.STILT,
            "--report",
            page(name),
            "--estimates",
            folder.resolve(name + ".csv"));
    assertEquals(0, run.status, run.err);
  }

  /** Estimates, keyed by the text of their time. */
  private static Map<Double, String[]> estimates(String name) throws IOException {
    Map<Double, String[]> lines = new HashMap<>();
    for (String line : Files.readAllLines(folder.resolve(name + ".csv"))) {
      String[] fields = line.split(",", -1);
      if (!fields[0].equals("time_s")) {
        lines.put(Double.parseDouble(fields[0]), fields);
      }
    }
    return lines;
  }

  private static void assertClean() {
    assertEquals(List.of(), browser.consoleMessages(), "console");
    assertEquals(List.of(), browser.requests(), "requests that leave the page");
  }

  @ParameterizedTest
  @ValueSource(strings = {"lost", "survived", "tune", "trial", "fit", "outlook", "logbook"})
  void chartsAreDrawnAndNothingLeavesThePage(String name) throws IOException {
    browser.open(page(name), DESK, false);
    long blank =
        (Long)
            browser.run(
                "return [...document.querySelectorAll('canvas')].filter(c => {"
                    + "const p = c.getContext('2d').getImageData(0, 0, c.width, c.height).data;"
                    + "return !p.some(v => v > 0); }).length");
    long charts = (Long) browser.run("return document.querySelectorAll('canvas').length");
    assertTrue(charts > 0, "charts");
    assertEquals(0, blank, "blank charts");
    assertEquals(
        0L,
        browser.run(
            "return [...document.querySelectorAll('.key i')].filter("
                + "i => !getComputedStyle(i).getPropertyValue('--of').trim()).length"),
        "legends without their colour");
    assertEquals(charts, Long.parseLong(browser.data("ready")));
    assertClean();
    assertTrue(Files.size(page(name)) < 2_000_000, "bytes " + Files.size(page(name)));
  }

  /**
   * What one chart shows in one style (line, dashes, area ...) differs in colour to a viewer
   * without green receptors too, by more than 20 in CIELAB (1976). Red, green and blue are turned
   * into what that viewer sees by the matrix of Machado, Oliveira and Fernandes (2009), severity 1;
   * its figures and the colour space's are from memory.
   */
  @ParameterizedTest
  @ValueSource(strings = {"lost", "survived", "tune", "trial", "fit", "outlook"})
  void chartsAreReadableWithoutGreenReceptors(String name) {
    for (boolean dark : new boolean[] {false, true}) {
      browser.open(page(name), DESK, dark);
      assertEquals(List.of(), browser.run(ALIKE_WITHOUT_GREEN), dark ? "dark" : "light");
    }
  }

  private static final String ALIKE_WITHOUT_GREEN =
      """
      const seen = [[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413],
        [-0.011820, 0.042940, 0.968881]];
      const toXyz = [[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]];
      const times = (m, v) => m.map(r => r[0] * v[0] + r[1] * v[1] + r[2] * v[2]);
      const linear = c => c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
      const lab = hex => {
        const rgb = [1, 3, 5].map(k => linear(parseInt(hex.slice(k, k + 2), 16) / 255));
        const xyz = times(toXyz, times(seen, rgb).map(c => Math.min(Math.max(c, 0), 1)));
        const [x, y, z] = xyz.map((c, i) => c / [0.9505, 1, 1.089][i])
          .map(c => c > 0.008856 ? Math.cbrt(c) : 7.787 * c + 16 / 116);
        return [116 * y - 16, 500 * (x - y), 200 * (y - z)];
      };
      const alike = [];
      for (const caption of document.querySelectorAll('figcaption')) {
        const keys = [...caption.querySelectorAll('.key')].map(key => {
          const mark = key.querySelector('i');
          const style = [...mark.classList].filter(c => !c.startsWith('of-')).join(' ');
          const colour = getComputedStyle(mark).getPropertyValue('--of').trim();
          return {name: key.textContent, style, colour};
        });
        for (let i = 0; i < keys.length; i++) for (let j = 0; j < i; j++) {
          const [a, b] = [keys[i], keys[j]];
          if (a.style !== b.style) continue;
          const apart = Math.hypot(...lab(a.colour).map((c, k) => c - lab(b.colour)[k]));
          if (!(apart > 20)) alike.push(a.name + ' and ' + b.name + ': ' + apart.toFixed(1));
        }
      }
      return alike;
      """;

  /** Three significant figures, as a page shows a number. */
  private static String figure(String number) {
    BigDecimal value = new BigDecimal(Double.parseDouble(number)); // as the page has it
    boolean large = value.abs().compareTo(BigDecimal.valueOf(1000)) >= 0;
    BigDecimal shown =
        large
            ? value.setScale(0, RoundingMode.HALF_UP)
            : value.round(new MathContext(3, RoundingMode.HALF_UP));
    return shown.signum() == 0 ? "0" : shown.stripTrailingZeros().toPlainString();
  }

  @Test
  void theCursorAgreesWithTheEstimatesFile() throws IOException {
    Map<Double, String[]> lines = estimates("lost");
    browser.open(page("lost"), DESK, false);
    int compared = 0;
    browser.press("power", Keys.HOME);
    for (int i = 0; i < 40; i++) {
      browser.shifted("power", Keys.ARROW_RIGHT);
      browser.press("throttle", Keys.ARROW_RIGHT);
      String seconds = browser.now("time").replaceAll(".*\\((.*) s\\)", "$1");
      String[] line = lines.get(Double.parseDouble(seconds));
      assertTrue(line != null, "time " + seconds + " is not in the estimates");
      assertEquals(figure(line[2]) + " W", browser.now("available"), seconds);
      assertEquals(figure(line[3]) + " W", browser.now("low"), seconds);
      assertEquals(figure(line[4]) + " W", browser.now("demand"), seconds);
      assertEquals(figure(line[5]) + " W", browser.now("margin"), seconds);
      assertEquals(figure(line[7]) + " V", browser.now("mppVolts"), seconds);
      assertEquals(figure(line[8]), browser.now("ceiling"), seconds);
      assertEquals(figure(line[9]) + " %", browser.now("lift"), seconds);
      assertEquals(line[11].isEmpty() ? "none" : line[11], browser.now("level"), seconds);
      compared++;
    }
    assertEquals(40, compared);
    assertClean();
  }

  /** Light and temperature are shown with three digits, which gives the tolerance. */
  @Test
  void theArraysCurveAgreesWithTheEstimator() throws IOException {
    SolarArray array = CraftProfile.read(Cli.STILT).settings().newArray();
    browser.open(page("lost"), DESK, false);
    browser.press("power", Keys.HOME);
    for (int i = 0; i < 20; i++) {
      browser.shifted("power", Keys.ARROW_RIGHT);
      array.set(figureOf(browser.now("suns")), figureOf(browser.now("cellC")));
      array.solvePeak();
      String drawn =
          (String)
              browser
                  .driver()
                  .executeScript("return document.getElementById('curve').dataset.peak");
      assertEquals(1, Double.parseDouble(drawn) / array.peakWatts(), 0.008, browser.now("time"));
    }
    assertClean();
  }

  private static double figureOf(String shown) {
    return Double.parseDouble(shown.replaceAll("[^0-9.-].*", ""));
  }

  @Test
  void zoomIsLinkedAndAnAlertMovesTheCursor() {
    browser.open(page("lost"), DESK, false);
    browser.press("power", "0");
    double whole =
        Double.parseDouble(browser.data("to")) - Double.parseDouble(browser.data("from"));
    browser.driver().findElement(By.cssSelector("[data-act=closer]")).click();
    double closer =
        Double.parseDouble(browser.data("to")) - Double.parseDouble(browser.data("from"));
    assertEquals(whole / 2, closer, 0.01 * whole);
    double raised =
        Double.parseDouble(
            (String)
                browser.run(
                    "const all = document.querySelectorAll('[data-go]');const last = all[all.length"
                        + " - 1]; last.click(); return last.dataset.go"));
    double from = Double.parseDouble(browser.data("from"));
    double to = Double.parseDouble(browser.data("to"));
    assertTrue(from <= raised && to >= raised, from + " to " + to);
    String seconds = browser.now("time").replaceAll(".*\\((.*) s\\)", "$1");
    assertEquals(raised, Double.parseDouble(seconds), 0.05);
    assertEquals("WARNING", browser.now("level"));
    String position =
        (String)
            browser.run(
                "return [...document.querySelectorAll('.plot .u-cursor-x')].slice(0, 4)"
                    + ".map(c => c.style.transform).join('|')");
    assertFalse(position.isEmpty());
    assertClean();
  }

  @ParameterizedTest
  @ValueSource(strings = {"lost", "survived", "tune", "trial", "fit", "outlook", "logbook"})
  void nothingOverflowsAPhone(String name) {
    browser.open(page(name), PHONE, false);
    long width = (Long) browser.run("return document.documentElement.scrollWidth");
    assertTrue(width <= PHONE, "width " + width);
    assertClean();
  }

  @ParameterizedTest
  @ValueSource(strings = {"lost", "survived", "tune", "trial", "fit", "outlook", "logbook"})
  void axeFindsNoFault(String name) {
    for (boolean dark : new boolean[] {false, true}) {
      browser.open(page(name), DESK, dark);
      List<Rule> violations = new AxeBuilder().analyze(browser.driver()).getViolations();
      assertEquals(
          List.of(),
          violations.stream().map(v -> v.getId() + " " + v.getNodes().get(0).getHtml()).toList(),
          dark ? "dark" : "light");
    }
  }

  @Test
  void hostileNamesStayTextInOutlook() throws IOException {
    Cli run =
        Cli.run(
            "outlook",
            "--craft",
            hostileCraft(),
            "--at=53.7,7.7",
            "--date=2026-06-21",
            "--report",
            page("hostile-outlook"));
    assertEquals(0, run.status, run.err);
    assertStaysText("hostile-outlook", HOSTILE);
  }

  @ParameterizedTest
  @ValueSource(strings = {"lost", "survived"})
  void aFlightPrintsOnOneSheet(String name) {
    browser.open(page(name), DESK, false);
    assertEquals(1, browser.printedPages());
  }

  /** A polar day has the most hours; a hostile name and an address give the longest lines. */
  @ParameterizedTest
  @ValueSource(strings = {"--at=53.7,7.7", "--at=89.123456,-120.123456,2800"})
  void theFieldSheetPrintsOnOneSheetInBlackOnWhite(String at) throws IOException {
    Cli run =
        Cli.run(
            "outlook",
            "--craft",
            hostileCraft(),
            at,
            "--date=2026-06-21",
            "--zone=America/Argentina/ComodRivadavia",
            "--air-c=-12,19",
            "--tilt=12",
            "--sheet",
            page("sheet"));
    assertEquals(0, run.status, run.err);
    for (boolean dark : new boolean[] {false, true}) {
      browser.scheme(DESK, dark);
      browser.driver().get(page("sheet").toUri().toString());
      assertEquals(1, browser.printedPages());
      assertEquals(
          "rgb(255, 255, 255) rgb(0, 0, 0)",
          browser.run(
              "const s = getComputedStyle(document.body); return s.backgroundColor + ' ' +"
                  + " s.color"));
    }
    String text = browser.driver().findElement(By.tagName("main")).getText();
    assertTrue(text.contains(HOSTILE), text);
    for (String words :
        List.of("without WARNING", "LAND NOW", "CLOSE the throttle", "Tether", "upper limit")) {
      assertTrue(text.contains(words), words + " in " + text);
    }
    assertEquals(0L, browser.run("return document.querySelectorAll('img, script').length"));
    assertClean();
    List<Rule> violations = new AxeBuilder().analyze(browser.driver()).getViolations();
    assertEquals(List.of(), violations.stream().map(Rule::getId).toList());
  }

  /** The curve of power has the light palette's ink on paper and the dark one's on the screen. */
  @Test
  void aDarkPagePrintsInTheLightPalette() {
    browser.open(page("lost"), DESK, true);
    String light = "0,95,153";
    assertEquals(false, drawnIn(light));
    browser.driver().executeScript("dispatchEvent(new Event('beforeprint'))");
    assertEquals(true, drawnIn(light));
    browser.driver().executeScript("dispatchEvent(new Event('afterprint'))");
    assertEquals(false, drawnIn(light));
  }

  private Object drawnIn(String rgb) {
    return browser
        .driver()
        .executeAsyncScript(
            "const [rgb, done] = arguments; setTimeout(() => {"
                + "const c = document.querySelector('#power canvas');"
                + "const d = c.getContext('2d').getImageData(0, 0, c.width, c.height).data;"
                + "for (let i = 0; i < d.length; i += 4)"
                + " if (d[i + 3] === 255 && rgb === d[i] + ',' + d[i + 1] + ',' + d[i + 2])"
                + " return done(true);"
                + "done(false); }, 200);",
            rgb);
  }

  @Test
  void hostileTextStaysText() throws IOException {
    String hostile = "</script><script>document.title='owned'</script><img src=x onerror=alert(1)>";
    Path profile = folder.resolve("hostile.properties");
    Files.writeString(
        profile,
        Files.readString(Cli.STILT).replace("craft.name = Stilt", "craft.name = " + hostile));
    StringBuilder text = new StringBuilder();
    int row = 0;
    for (String line : Files.readAllLines(FLIGHTS.resolve("slow-fade.csv"))) {
      if (!line.startsWith("#")) {
        text.append(line).append(',');
        text.append(row == 0 ? "event" : row == 100 ? hostile : "").append('\n');
        row++;
      }
    }
    Path log = folder.resolve("a'\"&<b>.csv");
    Files.writeString(log, text);
    Cli run = Cli.run("replay", log, "--craft", profile, "--report", page("hostile"));
    assertEquals(0, run.status, run.err);
    browser.open(page("hostile"), DESK, false);
    assertFalse(browser.driver().getTitle().contains("owned"));
    assertEquals(0L, browser.run("return document.querySelectorAll('img, b b').length"));
    assertTrue(
        browser.driver().findElement(By.tagName("main")).getText().contains(hostile),
        "the mark is shown as it was written");
    assertClean();
  }

  /** Text that would close the script and run another if any page treated it as markup. */
  private static final String HOSTILE =
      "</script></title><script>document.title='owned'</script>"
          + "<img src=x onerror=document.title='owned'><b>'\"&";

  /** The same, limited to characters allowed in a file name. */
  private static final String HOSTILE_FILE =
      "<img src=x onerror=document.title='owned'><b><script>document.title='owned'.csv";

  private static Path hostileCraft() throws IOException {
    return Files.writeString(
        folder.resolve("hostile.properties"),
        Files.readString(Cli.STILT).replace("craft.name = Stilt", "craft.name = " + HOSTILE));
  }

  private static void assertStaysText(String name, String... shown) {
    browser.open(page(name), DESK, false);
    assertFalse("owned".equals(browser.driver().getTitle()), "a script of a name has run");
    assertEquals(
        0L,
        browser.run(
            "return document.querySelectorAll('img, b b, main script, form, base,"
                + " iframe').length"));
    String text = browser.driver().findElement(By.tagName("main")).getText();
    for (String words : shown) {
      assertTrue(text.contains(words), words + " is shown as it was written, not in " + text);
    }
    assertClean();
  }

  @Test
  void hostileNamesStayTextInTune() throws IOException {
    Path logs = Files.createDirectory(folder.resolve("hostile-logs"));
    StringBuilder text = new StringBuilder();
    int row = 0;
    for (String line : Files.readAllLines(FLIGHTS.resolve("slow-fade.csv"))) {
      if (!line.startsWith("#")) {
        text.append(line).append(',');
        text.append(row == 0 ? "event" : row == 3000 ? quoted(HOSTILE) : "").append('\n');
        row++;
      }
    }
    Files.writeString(logs.resolve(HOSTILE_FILE), text);
    Files.copy(FLIGHTS.resolve("cloud-passage.csv"), logs.resolve("plain.csv"));
    Cli run = Cli.run("tune", logs, "--craft", hostileCraft(), "--report", page("hostile-tune"));
    assertEquals(0, run.status, run.err);
    assertStaysText("hostile-tune", HOSTILE, HOSTILE_FILE);
  }

  private static String quoted(String field) {
    return '"' + field.replace("\"", "\"\"") + '"';
  }

  @Test
  void hostileNamesStayTextInTrial() throws IOException {
    Path scenario = folder.resolve("hostile-scenario.properties");
    Files.writeString(
        scenario,
        Files.readString(Cli.EXAMPLES.resolve("scenarios/fast-edge.properties"))
                .replaceAll("(?m)^scenario.title.*$", "")
            + "\nscenario.title = scenario"
            + HOSTILE
            + "\n");
    Cli run =
        Cli.run(
            "trial",
            scenario,
            "--craft",
            hostileCraft(),
            "--flights",
            2,
            "--report",
            page("hostile-trial"));
    assertEquals(0, run.status, run.err);
    assertStaysText("hostile-trial", "craft " + HOSTILE, "scenario" + HOSTILE);
  }

  @Test
  void hostileNamesStayTextInFit() throws IOException {
    Path sweep = folder.resolve(HOSTILE_FILE);
    Files.copy(Cli.EXAMPLES.resolve("bench/array-sweep.csv"), sweep);
    Cli run = Cli.run("fit", "array", sweep, "--series", 48, "--report", page("hostile-fit"));
    assertEquals(0, run.status, run.err);
    assertStaysText("hostile-fit", HOSTILE_FILE);
  }

  @ParameterizedTest
  @ValueSource(strings = {"lost", "tune", "trial", "fit", "outlook"})
  void injectedMarkupNeitherRunsNorLoadsNorSends(String name) throws IOException {
    String page = Files.readString(page(name));
    assertFalse(page.contains("unsafe-"), "the policy has no exception");
    Path open = folder.resolve(name + "-injected.html");
    Files.writeString(
        open,
        page.replace(
            "<main>",
            "<main><base href=\"https://example.org/\"><script>document.title='owned'</script>"
                + "<style>body{margin-left:77px!important}</style>"
                + "<p id=\"styled\" style=\"margin-left:77px\">text</p>"
                + "<img src=\"data:image/gif;base64,R0lGODlhAQABAAAAACw=\""
                + " onerror=\"document.title='owned'\" onload=\"document.title='owned'\">"
                + "<form id=\"sender\" action=\"https://example.org/\"><input name=\"a\"></form>"));
    browser.open(open, DESK, false);
    browser.run("document.getElementById('sender').submit()");
    assertFalse("owned".equals(browser.driver().getTitle()), "an injected script has run");
    for (String element : List.of("body", "#styled")) {
      assertFalse(
          "77px"
              .equals(
                  browser.run(
                      "return getComputedStyle(document.querySelector(arguments[0])).marginLeft",
                      element)),
          "an injected style holds");
    }
    assertTrue(
        browser.driver().getCurrentUrl().startsWith("file:"), "an injected form was sent away");
    assertTrue(
        ((String) browser.run("return document.baseURI")).startsWith("file:"), "an injected base");
    assertEquals(List.of(), browser.requests(), "requests that leave the page");
    List<String> consoleMessages = browser.consoleMessages();
    for (String directive :
        List.of("script-src", "style-src", "img-src", "base-uri", "form-action")) {
      assertTrue(
          consoleMessages.stream().anyMatch(line -> line.contains(directive)),
          directive + " in " + consoleMessages);
    }
  }

  @Test
  void aLogOfRefusedSamplesOnlyHasAPageThatReportsIt() throws IOException {
    StringBuilder text = new StringBuilder("time_s,bus_v,bus_a,throttle\n");
    for (int i = 0; i < 200; i++) {
      text.append(i * 0.02).append(",,3,0.5\n");
    }
    Path log = folder.resolve("refused.csv");
    Files.writeString(log, text);
    Cli run = Cli.run("replay", log, "--craft", Cli.STILT, "--report", page("refused"));
    assertEquals(3, run.status);
    browser.open(page("refused"), DESK, false);
    String shown = browser.driver().findElement(By.tagName("main")).getText();
    assertTrue(shown.contains("No sample of this log could be used"), shown);
    assertTrue(shown.contains("200 no new reading"), shown);
    assertClean();
  }
}
