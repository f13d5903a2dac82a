package org.solarmargin.cli.option;

import java.nio.file.Path;
import picocli.CommandLine.ITypeConverter;

/**
 * A file that an option names to be written. {@link OutputCheck} holds every option of this type
 * against every other and against every {@link Path}, which is an input.
 *
 * @param path as given
 */
public record OutputFile(Path path) {

  /** From the command line. */
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
