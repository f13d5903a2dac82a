package org.solarmargin.cli.report;

import java.util.List;
import java.util.Locale;
import org.owasp.encoder.Encode;

/** Builds the body of a page; all text passed to it is escaped. */
public final class Html {

  private final StringBuilder text = new StringBuilder();

  /** An empty body. */
  public Html() {}

  /**
   * Escapes a text for content and attributes.
   *
   * @param value any text
   * @return safe in HTML
   */
  public static String safe(String value) {
    return Encode.forHtml(value);
  }

  /**
   * Adds an element with text.
   *
   * @param tag element and attributes, trusted
   * @param content text, escaped
   * @return this
   */
  public Html element(String tag, String content) {
    int space = tag.indexOf(' ');
    String name = space < 0 ? tag : tag.substring(0, space);
    text.append('<').append(tag).append('>').append(safe(content));
    text.append("</").append(name).append(">\n");
    return this;
  }

  /**
   * Adds markup unchanged.
   *
   * @param markup trusted: never text from a file
   * @return this
   */
  public Html raw(String markup) {
    text.append(markup).append('\n');
    return this;
  }

  /**
   * Adds a table that scrolls separately if the page is narrow.
   *
   * @param caption caption for screen readers
   * @param heads column heads; one that starts with {@code >} is for numbers
   * @param rows cells, already escaped or markup of this program
   * @return this
   */
  public Html table(String caption, List<String> heads, List<List<String>> rows) {
    text.append("<div class=\"scroll\" tabindex=\"0\" role=\"region\" aria-label=\"");
    text.append(safe(caption)).append("\"><table><caption class=\"alt\">").append(safe(caption));
    text.append("</caption><thead><tr>");
    for (String head : heads) {
      boolean numeric = head.startsWith(">");
      text.append(numeric ? "<th class=\"n\" scope=\"col\">" : "<th scope=\"col\">");
      text.append(safe(numeric ? head.substring(1) : head)).append("</th>");
    }
    text.append("</tr></thead><tbody>\n");
    for (List<String> row : rows) {
      text.append("<tr>");
      for (int i = 0; i < row.size(); i++) {
        text.append(heads.get(i).startsWith(">") ? "<td class=\"n\">" : "<td>");
        text.append(row.get(i)).append("</td>");
      }
      text.append("</tr>\n");
    }
    text.append("</tbody></table></div>\n");
    return this;
  }

  /**
   * Adds the element of a chart, its legend and a summary for screen readers.
   *
   * @param id id used by the page's script
   * @param title visible title
   * @param keys legend entries, from {@link #key}
   * @param summary the chart in a sentence
   * @return this
   */
  public Html chart(String id, String title, List<String> keys, String summary) {
    text.append("<figure><figcaption><b>").append(safe(title)).append("</b>");
    keys.forEach(text::append);
    text.append("</figcaption><div class=\"plot\" id=\"").append(id);
    text.append("\" tabindex=\"0\" role=\"application\" aria-label=\"");
    text.append(safe(title + ". " + summary)).append("\"></div></figure>\n");
    return this;
  }

  /**
   * A legend entry: line style and colour beside the name.
   *
   * @param name name shown
   * @param colour a colour with a class {@code of-} in the style sheet; the page's policy forbids
   *     style attributes
   * @param style one of {@code line dash dot ring area}
   * @return markup
   */
  public static String key(String name, String colour, String style) {
    return "<span class=\"key\"><i class=\""
        + style
        + " of-"
        + colour
        + "\"></i>"
        + safe(name)
        + "</span>";
  }

  /**
   * Formats a number for a cell.
   *
   * @param format format of {@link java.util.Formatter}
   * @param values its values
   * @return escaped text
   */
  public static String cell(String format, Object... values) {
    return safe(String.format(Locale.ROOT, format, values));
  }

  @Override
  public String toString() {
    return text.toString();
  }
}
