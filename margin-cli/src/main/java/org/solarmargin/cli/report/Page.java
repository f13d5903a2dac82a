package org.solarmargin.cli.report;

import com.google.gson.Gson;
import com.google.gson.GsonBuilder;
import com.google.gson.JsonObject;
import com.google.gson.stream.JsonWriter;
import java.io.IOException;
import java.io.InputStream;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.util.Base64;
import org.solarmargin.cli.file.Sha256;

/**
 * Writes self-contained pages with style, chart library (uPlot, from its WebJar), script and data.
 * The content security policy lists style and scripts by their hashes and forbids everything else,
 * so that markup injected through a name from a file could neither run, nor load, nor send
 * anything.
 */
public final class Page {

  private static final String CHARTS = "/META-INF/resources/webjars/uplot/";
  private static final String POLICY = "default-src 'none'; base-uri 'none'; form-action 'none'";
  private static final Gson GSON = new GsonBuilder().serializeNulls().create();

  private Page() {}

  /**
   * Writes a page.
   *
   * @param to receives the page
   * @param title title of the window
   * @param body built by {@link Html}
   * @param data data for the page's script
   * @throws IOException if it cannot be written
   */
  public static void write(Writer to, String title, Html body, JsonObject data) throws IOException {
    String from = CHARTS + resource("uplot-version.txt").strip() + "/";
    String style = "\n" + resource(from + "dist/uPlot.min.css") + resource("page.css");
    String charts =
        "\n" + licence(resource(from + "LICENSE")) + resource(from + "dist/uPlot.iife.min.js");
    String script = "\n" + resource("page.js");
    String policy =
        POLICY
            + "; style-src "
            + hash(style)
            + "; script-src "
            + String.join(" ", hash(charts), hash(script));
    head(to, title, policy, style);
    to.write(body.toString());
    to.write("</main>\n<script type=\"application/json\" id=\"data\">");
    JsonWriter json = new JsonWriter(to);
    json.setHtmlSafe(true);
    json.setSerializeNulls(true);
    GSON.toJson(data, json);
    json.flush();
    to.write("</script>\n<script>" + charts);
    to.write("</script>\n<script>" + script);
    to.write("</script>\n</body>\n</html>\n");
  }

  /**
   * The MIT licence requires its text, copyright and permission, in every copy, and a page is a
   * copy.
   */
  private static String licence(String text) {
    return "/*! uPlot, style and script:\n" + text.strip() + "\n*/\n";
  }

  /**
   * Writes a sheet to print: no script, no charts, black on white.
   *
   * @param to receives the page
   * @param title title of the window
   * @param body built by {@link Html}
   * @throws IOException if it cannot be written
   */
  public static void writeSheet(Writer to, String title, Html body) throws IOException {
    String style = "\n" + resource("sheet.css");
    head(to, title, POLICY + "; style-src " + hash(style), style);
    to.write(body.toString());
    to.write("</main>\n</body>\n</html>\n");
  }

  private static void head(Writer to, String title, String policy, String style)
      throws IOException {
    to.write("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n");
    to.write("<meta http-equiv=\"Content-Security-Policy\" content=\"" + policy + "\">\n");
    to.write("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n");
    to.write("<title>" + Html.safe(title) + "</title>\n<style>" + style);
    to.write("</style>\n</head>\n<body>\n<main>\n");
  }

  /**
   * The hash by which a content policy lists the content of an element.
   *
   * @param text content of the element
   * @return its hash, in single quotes
   */
  public static String hash(String text) {
    byte[] digest = Sha256.of(text.getBytes(StandardCharsets.UTF_8));
    return "'sha256-" + Base64.getEncoder().encodeToString(digest) + "'";
  }

  private static String resource(String name) throws IOException {
    return resource(Page.class, name);
  }

  /**
   * Reads a part of a page from the program's resources.
   *
   * @param beside class in whose package it is
   * @param name its name, or its path from the root
   * @return the text with lines ended by LF, as browsers hash it
   * @throws IOException if the program lacks it
   */
  public static String resource(Class<?> beside, String name) throws IOException {
    try (InputStream in = beside.getResourceAsStream(name)) {
      if (in == null) {
        throw new IOException("the program lacks its own resource " + name);
      }
      return new String(in.readAllBytes(), StandardCharsets.UTF_8).replace("\r\n", "\n");
    }
  }

  /**
   * Adds the caution that every page carries.
   *
   * @param html receives the caution
   */
  public static void safetyOf(Html html) {
    html.element(
        "p class=\"safety\"",
        "Advisory only, not certified. Keep a landing option at all times; test tethered and away"
            + " from people first; local aviation and electrical rules and licensed practice come"
            + " first.");
  }
}
