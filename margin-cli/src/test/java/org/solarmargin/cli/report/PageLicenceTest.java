package org.solarmargin.cli.report;

import static org.junit.jupiter.api.Assertions.assertTrue;

import com.google.gson.JsonObject;
import java.io.IOException;
import java.io.InputStream;
import java.io.StringWriter;
import java.nio.charset.StandardCharsets;
import org.junit.jupiter.api.Test;

/** A page contains a copy of the chart library, whose licence (MIT) must accompany every copy. */
class PageLicenceTest {

  @Test
  void copyrightAndPermissionPrecedeTheChartScript() throws IOException {
    StringWriter page = new StringWriter();
    Page.write(page, "a page", new Html(), new JsonObject());
    String licence;
    try (InputStream in =
        PageLicenceTest.class.getResourceAsStream("/META-INF/third-party/uplot.txt")) {
      licence = new String(in.readAllBytes(), StandardCharsets.UTF_8).strip();
    }
    int start = page.toString().indexOf(licence);
    int script = page.toString().indexOf("var uPlot=");
    assertTrue(start > 0 && script > start, "licence at " + start + ", script at " + script);
    String between = page.toString().substring(start, script);
    assertTrue(!between.contains("<script>"), "they stand in one script");
  }
}
