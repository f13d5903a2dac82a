package org.solarmargin.cli.report;

import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.Base64;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.logging.Level;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.openqa.selenium.By;
import org.openqa.selenium.InvalidArgumentException;
import org.openqa.selenium.Keys;
import org.openqa.selenium.WebElement;
import org.openqa.selenium.chrome.ChromeDriver;
import org.openqa.selenium.chrome.ChromeDriverService;
import org.openqa.selenium.chrome.ChromeOptions;
import org.openqa.selenium.logging.LogEntry;
import org.openqa.selenium.logging.LogType;
import org.openqa.selenium.logging.LoggingPreferences;
import org.openqa.selenium.print.PageMargin;
import org.openqa.selenium.print.PageSize;
import org.openqa.selenium.print.PrintOptions;
import org.openqa.selenium.support.ui.WebDriverWait;

/** Headless Chromium of the Debian packages {@code chromium} and {@code chromium-driver}. */
public final class Browser implements AutoCloseable {

  private static final int SECONDS = 20;

  private final ChromeDriver driver;

  /** Starts one. */
  public Browser() {
    LoggingPreferences logs = new LoggingPreferences();
    logs.enable(LogType.BROWSER, Level.ALL);
    logs.enable(LogType.PERFORMANCE, Level.ALL);
    ChromeOptions options = new ChromeOptions();
    options.setBinary(found("chromium").orElseThrow().toFile());
    options.addArguments(
        "--headless=new", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage");
    options.setCapability("goog:loggingPrefs", logs);
    driver =
        new ChromeDriver(
            new ChromeDriverService.Builder()
                .usingDriverExecutable(found("chromedriver").orElseThrow().toFile())
                .build(),
            options);
  }

  /** Whether both programs are installed. */
  public static boolean there() {
    return found("chromium").isPresent() && found("chromedriver").isPresent();
  }

  private static Optional<Path> found(String program) {
    return Stream.of("/usr/bin/", "/usr/local/bin/", "/usr/lib/chromium/")
        .map(folder -> Path.of(folder + program))
        .filter(Files::isExecutable)
        .findFirst();
  }

  /** Its driver. */
  public ChromeDriver driver() {
    return driver;
  }

  /** Opens a page at a width and in a scheme, and waits until its charts are drawn. */
  void open(Path page, int width, boolean dark) {
    scheme(width, dark);
    driver.get(page.toUri().toString());
    new WebDriverWait(driver, Duration.ofSeconds(SECONDS))
        .until(d -> run("return document.documentElement.dataset.ready") != null);
  }

  /** Sets width and colour scheme for the next page, and clears the console messages. */
  void scheme(int width, boolean dark) {
    driver.manage().logs().get(LogType.PERFORMANCE);
    driver.manage().logs().get(LogType.BROWSER);
    driver.executeCdpCommand(
        "Emulation.setDeviceMetricsOverride",
        Map.of("width", width, "height", 900, "deviceScaleFactor", 1, "mobile", width < 600));
    driver.executeCdpCommand(
        "Emulation.setEmulatedMedia",
        Map.of(
            "features",
            List.of(Map.of("name", "prefers-color-scheme", "value", dark ? "dark" : "light"))));
  }

  Object run(String script, Object... args) {
    return driver.executeScript(script, args);
  }

  String data(String name) {
    return (String) run("return document.documentElement.dataset[arguments[0]] || ''", name);
  }

  String now(String name) {
    return driver.findElement(By.cssSelector("[data-now=" + name + "]")).getText();
  }

  void press(String chart, CharSequence... keys) {
    WebElement plot = driver.findElement(By.id(chart));
    run("arguments[0].focus()", plot);
    driver.switchTo().activeElement().sendKeys(keys);
  }

  void shifted(String chart, Keys key) {
    press(chart, Keys.chord(Keys.SHIFT, key));
  }

  /** Console messages of the page, warnings and worse. */
  List<String> consoleMessages() {
    return driver.manage().logs().get(LogType.BROWSER).getAll().stream()
        .filter(entry -> entry.getLevel().intValue() >= Level.WARNING.intValue())
        .map(LogEntry::getMessage)
        .toList();
  }

  /** Addresses requested since the page was opened, without the page's own. */
  List<String> requests() {
    return driver.manage().logs().get(LogType.PERFORMANCE).getAll().stream()
        .map(LogEntry::getMessage)
        .filter(m -> m.contains("Network.requestWillBeSent\""))
        .map(m -> m.replaceAll("(?s).*\"request\":\\{.*?\"url\":\"([^\"]*)\".*", "$1"))
        .filter(url -> !"file".equals(URI.create(url.replace(" ", "%20")).getScheme()))
        .filter(url -> !url.startsWith("data:"))
        .toList();
  }

  /** The number of A4 sheets that the page is printed on. */
  int printedPages() {
    PrintOptions options = new PrintOptions();
    options.setPageSize(new PageSize(29.7, 21.0));
    options.setPageMargin(new PageMargin(1.1, 1.1, 1.1, 1.1));
    // Chromium refuses to print ("Printing failed") while it is still busy with the page before
    String printed =
        new WebDriverWait(driver, Duration.ofSeconds(10))
            .ignoring(InvalidArgumentException.class)
            .until(d -> driver.print(options).getContent());
    byte[] pdf = Base64.getDecoder().decode(printed);
    Matcher pages =
        Pattern.compile("/Type /Page\\b").matcher(new String(pdf, StandardCharsets.ISO_8859_1));
    return (int) pages.results().count();
  }

  @Override
  public void close() {
    driver.quit();
  }
}
