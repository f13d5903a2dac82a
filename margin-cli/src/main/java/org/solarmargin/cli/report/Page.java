package org.solarmargin.cli.report;

import com.google.gson.Gson;
import com.google.gson.GsonBuilder;
import com.google.gson.JsonObject;
import com.google.gson.stream.JsonWriter;
import java.io.IOException;
import java.io.InputStream;
import java.io.Writer;
import java.nio.charset.StandardCharsets;

/**
 * One self-contained page: style, chart library (uPlot, from its WebJar), script and data inside; a
 * content policy that lets nothing else in.
 */
public final class Page {

  private static final String CHARTS = "/META-INF/resources/webjars/uplot/1.6.30/dist/";
  private static final String POLICY =
      "default-src 'none'; style-src 'unsafe-inline'; script-src 'unsafe-inline'; img-src data:";
  private static final Gson GSON = new GsonBuilder().serializeNulls().create();

  private Page() {}

  /**
   * Writes a page.
   *
   * @param to where
   * @param title of the window
   * @param body built by {@link Html}
   * @param data for the page's script
   * @throws IOException if it cannot be written
   */
  public static void write(Writer to, String title, Html body, JsonObject data) throws IOException {
    to.write("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n");
    to.write("<meta http-equiv=\"Content-Security-Policy\" content=\"" + POLICY + "\">\n");
    to.write("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n");
    to.write("<title>" + Html.safe(title) + "</title>\n<style>\n");
    to.write(resource(CHARTS + "uPlot.min.css"));
    to.write(resource("page.css"));
    to.write("</style>\n</head>\n<body>\n<main>\n");
    to.write(body.toString());
    to.write("</main>\n<script type=\"application/json\" id=\"data\">");
    JsonWriter json = new JsonWriter(to);
    json.setHtmlSafe(true);
    json.setSerializeNulls(true);
    GSON.toJson(data, json);
    json.flush();
    to.write("</script>\n<script>\n");
    to.write(resource(CHARTS + "uPlot.iife.min.js"));
    to.write("</script>\n<script>\n");
    to.write(resource("page.js"));
    to.write("</script>\n</body>\n</html>\n");
  }

  private static String resource(String name) throws IOException {
    try (InputStream in = Page.class.getResourceAsStream(name)) {
      if (in == null) {
        throw new IOException("the program lacks its own part " + name);
      }
      return new String(in.readAllBytes(), StandardCharsets.UTF_8);
    }
  }

  /**
   * The caution that every page carries.
   *
   * @param html where it goes
   */
  public static void safetyOf(Html html) {
    html.element(
        "p class=\"safety\"",
        "Advisory only, not certified. Keep a landing option at all times; test tethered and away from"
            + " people first; local aviation and electrical rules and licensed practice come first.");
  }
}
