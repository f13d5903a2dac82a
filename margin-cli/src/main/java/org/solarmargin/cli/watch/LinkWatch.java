package org.solarmargin.cli.watch;

import java.util.Locale;
import org.solarmargin.cli.live.LinkCounts;
import org.solarmargin.cli.live.LinkCounts.Kind;
import org.solarmargin.cli.live.RowSource;
import org.solarmargin.core.profile.LogSources;

/**
 * Reports a problem with a source in one line when it begins and in another when it is over:
 * nothing arrives, no valid packets, packets of other systems only, or messages that the estimator
 * needs are missing.
 */
final class LinkWatch {

  /** Time without a reading after which a problem is reported, s: engineering judgement. */
  static final double REPORT_AFTER = 5;

  /** Shortest interval between reports of growing counts, s: engineering judgement. */
  private static final double REPEAT_AFTER = 10;

  /** Time without bytes after which a link may be about to fail, s: engineering judgement. */
  private static final double PAUSE = 2;

  private static final String REFUSED = "all packets are refused because of their signatures";

  private final RowSource source;
  private final LogSources messages;
  private final boolean baud;
  private final double began;
  private double readAt;
  private double commandedAt;

  /** When bytes last arrived, and since when they have arrived without a pause, s. */
  private double arrivedAt;

  private double liveSince;
  private long arrived;
  private long readings;
  private long commands;
  private long packets;
  private long foreign;
  private long refused;
  private String reported = "";
  private long reportedDropped;
  private double droppedAt = Double.NEGATIVE_INFINITY;
  private long reportedRefused;
  private double refusedAt = Double.NEGATIVE_INFINITY;

  /**
   * Starts watching a source.
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
   * Notes that a queued row is processed: it counts as received now.
   *
   * @param local the local clock, s
   */
  void taken(double local) {
    readAt = local;
    arrivedAt = local;
  }

  /**
   * The next message.
   *
   * @param local the local clock, s
   * @return the message; empty if there is nothing new to report
   */
  String line(double local) {
    LinkCounts counts = source.counts();
    double silent = local - readAt;
    boolean read = counts.of(Kind.READINGS) != readings;
    if (read || counts.of(Kind.BYTES) != arrived) {
      if (local - arrivedAt > REPORT_AFTER) {
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
    String words = problem(counts, local);
    if (!words.equals(reported)) {
      String before = reported;
      reported = words;
      if (!words.isEmpty()) {
        String numbers = words.equals(REFUSED) ? ": " + refusals(counts) : "";
        reportedRefused = counts.refused();
        return source.description() + ": " + words + numbers;
      }
      return source.description()
          + (read && silent > REPORT_AFTER
              ? String.format(Locale.ROOT, ": data arrive again after %.1f s", silent)
              : ": resolved: " + before);
    }
    return growing(counts, local);
  }

  /** Takes the present counts as the reference for packets that bring no reading. */
  private void note(LinkCounts counts) {
    packets = counts.of(Kind.PACKETS);
    foreign = counts.of(Kind.FOREIGN);
    refused = counts.refused();
  }

  private String problem(LinkCounts counts, double local) {
    if (!source.problem().isEmpty()) {
      return source.problem() + "; it will be reopened when it is back";
    }
    String some = String.format(Locale.ROOT, " for %.0f s", REPORT_AFTER);
    if (local - arrivedAt > REPORT_AFTER) {
      return "nothing has arrived"
          + some
          + ": is the sender switched on, and does it send to this machine?";
    }
    if (local - Math.max(readAt, liveSince) <= REPORT_AFTER) {
      if (readAt < liveSince) {
        return reported; // after an outage a reading may follow soon
      }
      return arrived > 0 && local - Math.max(commandedAt, liveSince) > REPORT_AFTER
          ? "no "
              + messages.throttle()
              + " arrives: enable it at the sender, or choose another message with --throttle"
          : "";
    }
    if (local - arrivedAt > PAUSE) {
      return reported;
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
          + ": choose the sender with --system and --component";
    }
    if (counts.refused() > refused) {
      return REFUSED;
    }
    return "packets arrive, but no "
        + messages.bus()
        + some
        + ": enable it at the sender, or choose another message with --bus";
  }

  private static String refusals(LinkCounts counts) {
    return counts.of(Kind.UNSIGNED)
        + " without a signature, "
        + counts.of(Kind.WRONG_SIGNATURE)
        + " signed with another key, "
        + counts.of(Kind.REPLAYED)
        + " with an old time stamp (so far)";
  }

  /** Rows dropped and packets refused while data arrive. */
  private String growing(LinkCounts counts, double local) {
    long dropped = counts.of(Kind.DROPPED);
    if (dropped > reportedDropped && local - droppedAt >= REPEAT_AFTER) {
      reportedDropped = dropped;
      droppedAt = local;
      return source.description()
          + ": data arrive faster than this machine can process them: "
          + dropped
          + " rows dropped so far";
    }
    boolean flowing = reported.isEmpty() && readings > 0;
    if (flowing && counts.refused() > reportedRefused && local - refusedAt >= REPEAT_AFTER) {
      reportedRefused = counts.refused();
      refusedAt = local;
      return source.description() + ": packets are refused: " + refusals(counts);
    }
    return "";
  }

  /**
   * The summary at the end of a watch.
   *
   * @return the message; empty if nothing was dropped or refused
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
        : String.format(Locale.ROOT, "%s: %sin %.0f s", source.description(), text, local - began);
  }
}
