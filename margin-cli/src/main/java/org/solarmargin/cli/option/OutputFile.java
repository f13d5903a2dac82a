package org.solarmargin.cli.option;

import java.nio.file.Path;
import picocli.CommandLine.ITypeConverter;

/**
 * An output file named by an option. {@link OutputCheck} compares every option of this type with
 * every other and with every {@link Path}, which is an input.
 *
 * @param path as given
 */
public record OutputFile(Path path) {

  /** Converts the text on the command line. */
  public static final class Converter implements ITypeConverter<OutputFile> {
    @Override
    public OutputFile convert(String text) {
      return new OutputFile(Path.of(text));
    }
  }

  @Override
  public String toString() {
    return path.toString();
  }
}
