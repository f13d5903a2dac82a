package org.solarmargin.cli.watch;

import com.google.gson.JsonObject;
import org.solarmargin.cli.live.LiveFeed;

/** An alert as an object for programs and the page. */
final class AlertJson {

  private AlertJson() {}

  static JsonObject of(LiveFeed.Alert alert) {
    JsonObject json = new JsonObject();
    JsonNumber.add(json, "time_s", alert.seconds(), 6);
    json.addProperty("alert", alert.level().name());
    json.addProperty("raised", alert.raised());
    json.addProperty("why", alert.reason().words());
    return json;
  }
}
