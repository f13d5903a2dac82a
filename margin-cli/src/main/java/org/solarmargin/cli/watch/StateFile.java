package org.solarmargin.cli.watch;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import org.solarmargin.cli.file.AtomicFile;
import org.solarmargin.cli.file.InputFault;
import org.solarmargin.cli.file.Sha256;
import org.solarmargin.cli.live.LiveFeed;
import org.solarmargin.core.monitor.MarginMonitor;

/**
 * The monitor's state on disk, so that a restarted watch need not warm up: a marker, the digest of
 * the profile, the time of saving in ms since 1970, and the state. Written atomically once a second
 * while data arrive.
 */
final class StateFile {

  private static final byte[] MARK = "margin state 1\n".getBytes(StandardCharsets.US_ASCII);
  private static final int LENGTH =
      MARK.length + Sha256.BYTES + Long.BYTES + MarginMonitor.STATE_BYTES;
  private static final double EVERY_SECONDS = 1;

  private final Path file;
  private final byte[] profile;
  private final byte[] state = new byte[MarginMonitor.STATE_BYTES];
  private double written = Double.NEGATIVE_INFINITY;

  /**
   * Creates a file for states of one profile.
   *
   * @param file existing or not
   * @param profile file of the profile
   * @throws InputFault if the file exists and is not such a state; it is not overwritten
   */
  StateFile(Path file, Path profile) throws IOException {
    this.file = file;
    this.profile = Sha256.of(Files.readAllBytes(profile));
    byte[] there = Files.isRegularFile(file) ? head(file) : new byte[0];
    if (there.length > 0 && !Arrays.equals(there, MARK)) {
      throw new InputFault(
          file + ": is not a state written by watch: name another file for --state");
    }
  }

  private static byte[] head(Path file) throws IOException {
    try (var in = Files.newInputStream(file)) {
      return in.readNBytes(MARK.length);
    }
  }

  /**
   * Passes a valid state to a feed.
   *
   * @param nowMillis ms since 1970
   * @return human-readable reason why it is not restored; empty if it is, or if there is none
   */
  String resume(LiveFeed feed, double local, long nowMillis) throws IOException {
    if (!Files.isRegularFile(file) || Files.size(file) == 0) {
      return "";
    }
    if (Files.size(file) != LENGTH) {
      return "it is damaged or of another version";
    }
    ByteBuffer in = ByteBuffer.wrap(Files.readAllBytes(file)).position(MARK.length);
    byte[] digest = new byte[Sha256.BYTES];
    in.get(digest);
    double ago = (nowMillis - in.getLong()) * 1e-3;
    if (!Arrays.equals(digest, profile)) {
      return "it belongs to another profile, or the profile was changed";
    }
    if (ago < 0 || ago > LiveFeed.OLDEST_STATE_SECONDS) {
      return "it is older than " + (int) LiveFeed.OLDEST_STATE_SECONDS + " s, or from the future";
    }
    in.get(state);
    feed.resumeFrom(state, local - ago);
    return "";
  }

  /** Saves a monitor's state, at most once a second. */
  void save(MarginMonitor monitor, double local, long nowMillis) throws IOException {
    if (local - written < EVERY_SECONDS) {
      return;
    }
    written = local;
    monitor.save(state);
    byte[] whole =
        ByteBuffer.allocate(LENGTH).put(MARK).put(profile).putLong(nowMillis).put(state).array();
    AtomicFile.write(file, to -> to.stream().write(whole));
  }
}
