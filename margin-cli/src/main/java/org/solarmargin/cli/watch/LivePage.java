package org.solarmargin.cli.watch;

import com.google.gson.JsonArray;
import com.google.gson.JsonObject;
import com.sun.net.httpserver.HttpExchange;
import com.sun.net.httpserver.HttpServer;
import java.io.Closeable;
import java.io.IOException;
import java.io.OutputStream;
import java.net.Inet6Address;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.nio.charset.StandardCharsets;
import java.util.ArrayDeque;
import java.util.Collection;
import java.util.Deque;
import java.util.List;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.TimeUnit;
import org.solarmargin.cli.file.InputFault;
import org.solarmargin.cli.live.LiveFeed;
import org.solarmargin.cli.report.Html;
import org.solarmargin.cli.report.Page;

/**
 * A web page with the live margin: one page and one stream of server-sent events, on the loopback
 * interface unless another address is given. It accepts no commands and refuses requests for
 * another host.
 */
final class LivePage implements Closeable {

  private static final int MOST_READERS = 16;
  private static final int QUEUE_LENGTH = 8;
  private static final long ALIVE_MILLIS = 1000;
  private static final int ALERTS_KEPT = 8;
  private static final int USUAL_PORT = 80;

  private final HttpServer server;
  private final ExecutorService pool = Executors.newCachedThreadPool(LivePage::thread);
  private final List<BlockingQueue<String>> readers = new CopyOnWriteArrayList<>();
  private final Deque<LiveFeed.Alert> alertsSoFar = new ArrayDeque<>();
  private final InetAddress address;
  private final List<String> names;
  private final byte[] page;
  private final String policy;

  /** A page at an address; of a port 0, the system chooses one. */
  LivePage(InetSocketAddress at, String craft) throws IOException {
    try {
      server = HttpServer.create(at, 0);
    } catch (IOException e) {
      String taken = "the port is in use by another program: use another port";
      throw new InputFault(
          "--page "
              + at.getPort()
              + ": cannot be opened: "
              + (String.valueOf(e.getMessage()).contains("in use") ? taken : e.getMessage()));
    }
    address = at.getAddress();
    names = List.of("127.0.0.1", "localhost", "[::1]", at.getHostString());
    String style = "\n" + Page.resource(LivePage.class, "live.css");
    String script = "\n" + Page.resource(LivePage.class, "live.js");
    policy =
        "default-src 'none'; base-uri 'none'; form-action 'none'; connect-src 'self'; style-src "
            + Page.hash(style)
            + "; script-src "
            + Page.hash(script);
    page = html(craft, style, script).getBytes(StandardCharsets.UTF_8);
    server.setExecutor(pool);
    server.createContext("/", this::answer);
    server.start();
  }

  private static Thread thread(Runnable work) {
    Thread thread = new Thread(work, "page");
    thread.setDaemon(true);
    return thread;
  }

  int port() {
    return server.getAddress().getPort();
  }

  /** Where the page is, for people. */
  String words() {
    String where =
        address.isAnyLocalAddress()
            ? "port " + port() + " of every address of this machine"
            : "http://" + numbers(address) + ":" + port() + "/";
    return where
        + (address.isLoopbackAddress() ? " (this machine only)" : " (OPEN TO THE NETWORK)");
  }

  private void answer(HttpExchange exchange) throws IOException {
    try (exchange) {
      exchange.getResponseHeaders().set("Content-Security-Policy", policy);
      exchange.getResponseHeaders().set("X-Content-Type-Options", "nosniff");
      exchange.getResponseHeaders().set("Cache-Control", "no-store");
      String path = exchange.getRequestURI().getPath();
      if (!ours(exchange)) {
        exchange.sendResponseHeaders(421, -1);
      } else if (!exchange.getRequestMethod().equals("GET")) {
        exchange.sendResponseHeaders(405, -1);
      } else if (path.equals("/")) {
        exchange.getResponseHeaders().set("Content-Type", "text/html; charset=utf-8");
        exchange.sendResponseHeaders(200, page.length);
        exchange.getResponseBody().write(page);
      } else if (path.equals("/live") && readers.size() < MOST_READERS) {
        stream(exchange);
      } else {
        exchange.sendResponseHeaders(path.equals("/live") ? 503 : 404, -1);
      }
    }
  }

  /** Whether the host that is asked for is this one, not a name that another page leads here by. */
  private boolean ours(HttpExchange exchange) {
    String host = String.valueOf(exchange.getRequestHeaders().getFirst("Host"));
    String suffix = ":" + port();
    if (host.endsWith(suffix)) {
      host = host.substring(0, host.length() - suffix.length());
    } else if (port() != USUAL_PORT) {
      return false;
    }
    return names.contains(host) || host.equals(numbers(exchange.getLocalAddress().getAddress()));
  }

  private static String numbers(InetAddress address) {
    String text = address.getHostAddress().replaceFirst("%.*", "");
    return address instanceof Inet6Address ? "[" + text + "]" : text;
  }

  private void stream(HttpExchange exchange) throws IOException {
    BlockingQueue<String> queue = new ArrayBlockingQueue<>(QUEUE_LENGTH);
    exchange.getResponseHeaders().set("Content-Type", "text/event-stream");
    exchange.sendResponseHeaders(200, 0);
    readers.add(queue);
    try (OutputStream out = exchange.getResponseBody()) {
      while (true) {
        String message = queue.poll(ALIVE_MILLIS, TimeUnit.MILLISECONDS);
        // a periodic comment detects that the reader has disconnected
        String text = message == null ? ":\n\n" : "data: " + message + "\n\n";
        out.write(text.getBytes(StandardCharsets.UTF_8));
        out.flush();
      }
    } catch (IOException e) {
      // the reader has disconnected
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    } finally {
      readers.remove(queue);
    }
  }

  /**
   * Sends the figures, the alerts since the last call and the latest earlier ones to all readers.
   */
  void send(Figures figures, List<LiveFeed.Alert> alerts) {
    JsonObject message = new JsonObject();
    message.add("figures", figures.json());
    message.add("earlier", array(alertsSoFar));
    message.add("alerts", array(alerts));
    alertsSoFar.addAll(alerts);
    while (alertsSoFar.size() > ALERTS_KEPT) {
      alertsSoFar.removeFirst();
    }
    String text = message.toString();
    for (BlockingQueue<String> reader : readers) {
      if (!reader.offer(text)) {
        reader.poll();
        reader.offer(text);
      }
    }
  }

  private static JsonArray array(Collection<LiveFeed.Alert> alerts) {
    JsonArray list = new JsonArray();
    for (LiveFeed.Alert alert : alerts) {
      list.add(AlertJson.of(alert));
    }
    return list;
  }

  private static String html(String craft, String style, String script) {
    return "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
        + "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>"
        + Html.safe(craft)
        + " - margin now</title>\n<style>"
        + style
        + "</style>\n</head>\n<body class=\"stale\">\n<main>\n<h1>"
        + Html.safe(craft)
        + ": margin of available power over demand</h1>\n"
        + "<p class=\"margin\" id=\"margin\">-</p>\n"
        + "<p class=\"low\" id=\"low\">-</p>\n"
        + "<p class=\"state\" id=\"state\" role=\"status\">NO DATA</p>\n"
        + "<div class=\"bar\" role=\"img\" aria-label=\"Share of the available power, by its"
        + " lower bound, that is not drawn\"><div id=\"fill\"></div></div>\n"
        + "<p class=\"ends\"><span>knee</span><span>nothing drawn</span></p>\n"
        + "<dl><dt>throttle and ceiling</dt><dd id=\"throttle\">-</dd>"
        + "<dt>available</dt><dd id=\"power\">-</dd></dl>\n"
        + "<dl class=\"aging\"><dt>age of the data</dt><dd id=\"age\">none yet</dd></dl>\n"
        + "<svg viewBox=\"0 0 300 100\" preserveAspectRatio=\"none\" role=\"img\""
        + " aria-label=\"Margin and its lower bound over the last five minutes\"><path"
        + " class=\"zero\" d=\"M0 87L300 87\"/><path class=\"bound\" id=\"bound\"/><path"
        + " class=\"trace\" id=\"trace\"/></svg>\n"
        + "<p class=\"safety\">Solid: margin; dashed: its lower bound; the red line is zero margin."
        + " Last five minutes.</p>\n"
        + "<ol id=\"alerts\" aria-label=\"Alerts, newest first\"></ol>\n"
        + "<p><button type=\"button\" id=\"sound\">Tone on WARNING: tap to allow</button></p>\n"
        + "<p class=\"safety\">Advisory only, not certified. Keep a landing option at all times;"
        + " the link may fail at any moment.</p>\n"
        + "</main>\n"
        + "<script>"
        + script
        + "</script>\n</body>\n</html>\n";
  }

  @Override
  public void close() {
    server.stop(0);
    pool.shutdownNow();
  }
}
