package org.solarmargin.cli.watch;

import java.util.Locale;
import org.solarmargin.cli.live.LinkCounts;
import org.solarmargin.cli.live.LinkCounts.Kind;
import org.solarmargin.cli.live.RowSource;
import org.solarmargin.core.profile.LogSources;

/**
 * What is wrong with a source, in one line, once when it begins and once when it is over: nothing
 * arrives, bytes are no packets, packets are of others, or lack what feeds the estimator.
 */
final class LinkWatch {

  /** Without a reading for so long there is something to say, s. */
  static final double PATIENCE = 5;

  /** Where nothing has come for so long, a link may be about to be dead, s. */
  private static final double PAUSE = 2;

  /** Counts that only grow are told this often at most, s. */
  private static final double AGAIN = 10;

  private static final String REFUSED = "all packets are refused for their signatures";

  private final RowSource source;
  private final LogSources messages;
  private final boolean baud;
  private final double began;
  private double readAt;
  private double commandedAt;

  /** When bytes came last, and since when they have come without a pause, s. */
  private double arrivedAt;

  private double liveSince;
  private long arrived;
  private long readings;
  private long commands;
  private long packets;
  private long foreign;
  private long refused;
  private String told = "";
  private long toldDropped;
  private double droppedAt = Double.NEGATIVE_INFINITY;
  private long toldRefused;
  private double refusedAt = Double.NEGATIVE_INFINITY;

  /**
   * Looks at a source from now on.
   *
   * @param baud whether the source has a baud rate that may be wrong
   * @param local the local clock, s
   */
  LinkWatch(RowSource source, LogSources messages, boolean baud, double local) {
    this.source = source;
    this.messages = messages;
    this.baud = baud;
    began = local;
    readAt = local;
    commandedAt = local;
    arrivedAt = local;
    liveSince = local;
  }

  /**
   * A row that was read ahead is taken: it counts as read now.
   *
   * @param local the local clock, s
   */
  void taken(double local) {
    readAt = local;
    arrivedAt = local;
  }

  /**
   * The next line.
   *
   * @param local the local clock, s
   * @return empty if there is nothing new to say
   */
  String line(double local) {
    LinkCounts counts = source.counts();
    double silent = local - readAt;
    boolean read = counts.of(Kind.READINGS) != readings;
    if (read || counts.of(Kind.BYTES) != arrived) {
      if (local - arrivedAt > PATIENCE) {
        liveSince = local;
        note(counts);
      }
      arrivedAt = local;
      arrived = counts.of(Kind.BYTES);
    }
    if (read) {
      readAt = local;
      readings = counts.of(Kind.READINGS);
      note(counts);
    }
    if (counts.of(Kind.COMMANDS) != commands) {
      commands = counts.of(Kind.COMMANDS);
      commandedAt = local;
    }
    String words = trouble(counts, local);
    if (!words.equals(told)) {
      String before = told;
      told = words;
      if (!words.isEmpty()) {
        String numbers = words.equals(REFUSED) ? ": " + refusals(counts) : "";
        toldRefused = counts.refused();
        return source.words() + ": " + words + numbers;
      }
      return source.words()
          + (read && silent > PATIENCE
              ? String.format(Locale.ROOT, ": data come again after %.1f s", silent)
              : ": is over: " + before);
    }
    return growing(counts, local);
  }

  /** What arrives from now on without a reading is judged. */
  private void note(LinkCounts counts) {
    packets = counts.of(Kind.PACKETS);
    foreign = counts.of(Kind.FOREIGN);
    refused = counts.refused();
  }

  private String trouble(LinkCounts counts, double local) {
    if (!source.trouble().isEmpty()) {
      return source.trouble() + ": it is opened again as soon as it is there";
    }
    String some = String.format(Locale.ROOT, " for %.0f s", PATIENCE);
    if (local - arrivedAt > PATIENCE) {
      return "nothing has arrived" + some + ": is the sender on, and does it send here?";
    }
    if (local - Math.max(readAt, liveSince) <= PATIENCE) {
      if (readAt < liveSince) {
        return told; // what comes again may soon bring a reading
      }
      return arrived > 0 && local - Math.max(commandedAt, liveSince) > PATIENCE
          ? "no " + messages.throttle() + " comes: have it sent, or choose another by --throttle"
          : "";
    }
    if (local - arrivedAt > PAUSE) {
      return told;
    }
    long news = counts.of(Kind.PACKETS) - packets;
    if (news == 0) {
      return "bytes arrive, but no MAVLink packet"
          + some
          + (baud ? ": is the baud rate wrong?" : ": does the sender speak MAVLink?");
    }
    if (counts.of(Kind.FOREIGN) - foreign == news) {
      return "MAVLink arrives, but not from system "
          + messages.system()
          + (messages.component() == 0 ? "" : " component " + messages.component())
          + some
          + ": choose what is heard by --system and --component";
    }
    if (counts.refused() > refused) {
      return REFUSED;
    }
    return "packets arrive, but no "
        + messages.bus()
        + some
        + ": have it sent, or choose another by --bus";
  }

  private static String refusals(LinkCounts counts) {
    return counts.of(Kind.UNSIGNED)
        + " without a signature, "
        + counts.of(Kind.WRONG_SIGNATURE)
        + " signed with another key, "
        + counts.of(Kind.REPLAYED)
        + " with a time stamp that is not new (so far)";
  }

  /** Rows dropped and packets refused while data come. */
  private String growing(LinkCounts counts, double local) {
    long dropped = counts.of(Kind.DROPPED);
    if (dropped > toldDropped && local - droppedAt >= AGAIN) {
      toldDropped = dropped;
      droppedAt = local;
      return source.words()
          + ": more comes than this machine can take: "
          + dropped
          + " rows dropped so far";
    }
    boolean flowing = told.isEmpty() && readings > 0;
    if (flowing && counts.refused() > toldRefused && local - refusedAt >= AGAIN) {
      toldRefused = counts.refused();
      refusedAt = local;
      return source.words() + ": packets are refused: " + refusals(counts);
    }
    return "";
  }

  /**
   * The last word of a watch.
   *
   * @return empty if nothing was dropped or refused
   */
  String end(double local) {
    LinkCounts counts = source.counts();
    StringBuilder text = new StringBuilder();
    if (counts.of(Kind.DROPPED) > 0) {
      text.append(counts.of(Kind.DROPPED)).append(" rows dropped; ");
    }
    if (counts.refused() > 0) {
      text.append("packets refused: ").append(refusals(counts)).append("; ");
    }
    return text.isEmpty()
        ? ""
        : String.format(Locale.ROOT, "%s: %sin %.0f s", source.words(), text, local - began);
  }
}
