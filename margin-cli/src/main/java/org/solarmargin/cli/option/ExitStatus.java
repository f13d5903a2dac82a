package org.solarmargin.cli.option;

/** Exit statuses of the program, in addition to picocli's 0 (done) and 2 (wrong usage). */
public final class ExitStatus {

  /** A fault of the program, or an output that cannot be written. */
  public static final int PROGRAM_FAULT = 1;

  /** An input cannot be used, or its estimates cannot be relied on. */
  public static final int UNUSABLE_INPUT = 3;

  /** A requested check failed: {@code replay --fail-on}, {@code tune --check}. */
  public static final int CHECK_FAILED = 4;

  private ExitStatus() {}
}
