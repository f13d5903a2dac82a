package org.solarmargin.cli.tune.rule;

/** An event to be added or removed that cannot be meant: one line with the reason. */
public final class WrongEdit extends RuntimeException {

  private static final long serialVersionUID = 1;

  WrongEdit(String message) {
    super(message);
  }
}
