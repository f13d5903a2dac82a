package org.solarmargin.cli.watch;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.deque.html.axecore.results.Rule;
import com.deque.html.axecore.selenium.AxeBuilder;
import java.io.IOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Assumptions;
import org.junit.jupiter.api.Test;
import org.openqa.selenium.By;
import org.openqa.selenium.support.ui.WebDriverWait;
import org.solarmargin.cli.live.LiveFeed;
import org.solarmargin.cli.report.Browser;
import org.solarmargin.core.alert.AlertLevel;
import org.solarmargin.core.alert.AlertReason;

/** The live page: what it shows, which hosts it answers, and what it does when no data arrive. */
class LivePageTest {

  private static Figures figures(String state, double margin, AlertLevel level) {
    double low = margin - 12;
    return new Figures(60, state, margin, low, 134, 122, 100, 340, 220, 0.52, 0.61, 0.1, level);
  }

  private static LivePage page() throws IOException {
    return new LivePage(
        new InetSocketAddress(InetAddress.getLoopbackAddress(), 0), "Stilt <b onload=alert(1)>");
  }

  private static String url(LivePage page) {
    return "http://127.0.0.1:" + page.port() + "/";
  }

  @Test
  void itAcceptsNoCommandsAndAnswersItsOwnHostOnly() throws Exception {
    try (LivePage page = page()) {
      HttpClient client = HttpClient.newHttpClient();
      HttpRequest.Builder request = HttpRequest.newBuilder(URI.create(url(page)));
      HttpResponse<String> answer =
          client.send(request.GET().build(), HttpResponse.BodyHandlers.ofString());
      assertEquals(200, answer.statusCode());
      String policy = answer.headers().firstValue("Content-Security-Policy").orElseThrow();
      assertTrue(policy.startsWith("default-src 'none'; base-uri 'none'; form-action 'none'"));
      assertFalse(policy.contains("unsafe"), policy);
      assertFalse(answer.body().contains("<b onload"), "names are text");
      HttpRequest post = request.POST(HttpRequest.BodyPublishers.ofString("x")).build();
      assertEquals(405, client.send(post, HttpResponse.BodyHandlers.discarding()).statusCode());
      HttpRequest none = HttpRequest.newBuilder(URI.create(url(page) + "../etc/passwd")).build();
      assertEquals(404, client.send(none, HttpResponse.BodyHandlers.discarding()).statusCode());
      assertEquals("421", status("127.0.0.1", page, "evil.example:" + page.port()));
    }
  }

  @Test
  void aPageOpenToTheNetworkAnswersTheAddressThatItIsReachedBy() throws Exception {
    try (LivePage page = new LivePage(new InetSocketAddress("0.0.0.0", 0), "Stilt")) {
      assertEquals(
          "port " + page.port() + " of every address of this machine (OPEN TO THE NETWORK)",
          page.words());
      String own = "127.0.0.9"; // an address of the loopback, as that of a network would be
      assertEquals("200", status(own, page, own + ":" + page.port()));
      assertEquals("421", status(own, page, "127.0.0.8:" + page.port()), "another address");
      assertEquals("421", status(own, page, "evil.example:" + page.port()));
      assertEquals("421", status(own, page, own));
    }
    try (LivePage page = page()) {
      assertEquals("http://127.0.0.1:" + page.port() + "/ (this machine only)", page.words());
    }
  }

  /** HttpClient does not let a caller set the Host header. */
  private static String status(String address, LivePage page, String host) throws IOException {
    try (java.net.Socket socket = new java.net.Socket(address, page.port())) {
      socket
          .getOutputStream()
          .write(
              ("GET / HTTP/1.1\r\nHost: " + host + "\r\nConnection: close\r\n\r\n")
                  .getBytes(java.nio.charset.StandardCharsets.US_ASCII));
      byte[] start = socket.getInputStream().readNBytes(12);
      return new String(start, 9, 3, java.nio.charset.StandardCharsets.US_ASCII);
    }
  }

  @Test
  void aBrowserShowsMarginAlertsAndMissingData() throws Exception {
    Assumptions.assumeTrue(Browser.there(), "chromium and chromedriver are not installed");
    try (LivePage page = page();
        Browser browser = new Browser()) {
      browser
          .driver()
          .executeCdpCommand(
              "Emulation.setDeviceMetricsOverride",
              Map.of("width", 390, "height", 900, "deviceScaleFactor", 1, "mobile", true));
      browser.driver().get(url(page));
      LiveFeed.Alert alert =
          new LiveFeed.Alert(59, AlertLevel.WARNING, true, AlertReason.LOW_MARGIN);
      WebDriverWait wait = new WebDriverWait(browser.driver(), Duration.ofSeconds(10));
      wait.until(
          driver -> {
            page.send(figures("SHARP", 34, AlertLevel.WARNING), List.of(alert));
            return driver.findElement(By.id("margin")).getText().equals("+34 %");
          });
      assertEquals("WARNING", text(browser, "state"));
      assertEquals("at least +22 %, +220 g of lift", text(browser, "low"));
      assertTrue(text(browser, "alerts").contains("WARNING raised"), text(browser, "alerts"));
      Object filled =
          browser.driver().executeScript("return document.getElementById('fill').style.width");
      assertEquals(18, Double.parseDouble(filled.toString().replace("%", "")), 0.1, "22 of 122");
      assertEquals(List.of(), violations(new AxeBuilder(), browser));
      assertEquals(
          List.of(),
          violations(new AxeBuilder().withRules(List.of("color-contrast-enhanced")), browser),
          "contrast 7:1");
      Object wide =
          browser
              .driver()
              .executeScript("return document.documentElement.scrollWidth <= innerWidth");
      assertEquals(true, wide, "nothing sticks out at 390 px");
      wait.until(
          driver -> {
            page.send(figures("PAST_KNEE", 90, AlertLevel.WARNING), List.of());
            return text(browser, "state").startsWith("PAST THE KNEE: CLOSE the throttle to 0.61");
          });
      // later viewers see the alerts that were raised before
      browser.driver().navigate().refresh();
      wait.until(
          driver -> {
            page.send(figures("SHARP", 34, AlertLevel.WARNING), List.of());
            return text(browser, "alerts").contains("WARNING raised");
          });
      // no more data arrive
      wait.until(driver -> text(browser, "state").startsWith("NO LINK"));
      assertEquals(List.of(), violations(new AxeBuilder(), browser));
    }
  }

  private static String text(Browser browser, String id) {
    return browser.driver().findElement(By.id(id)).getText();
  }

  private static List<String> violations(AxeBuilder axe, Browser browser) {
    List<Rule> found = axe.analyze(browser.driver()).getViolations();
    return found.stream().map(v -> v.getId() + " " + v.getNodes().get(0).getHtml()).toList();
  }
}
