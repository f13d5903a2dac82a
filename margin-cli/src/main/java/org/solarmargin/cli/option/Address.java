package org.solarmargin.cli.option;

import java.net.InetSocketAddress;
import org.solarmargin.cli.file.InputFault;
import picocli.CommandLine;
import picocli.CommandLine.ParameterException;

/** A host and a port of the network, as a user gives them. */
public final class Address {

  private static final int HIGHEST_PORT = 65_535;

  private Address() {}

  /**
   * Reads {@code HOST:PORT}, or {@code PORT} alone where there is a host for that.
   *
   * @param text as given
   * @param usual host of a port alone; empty if a host must be given
   * @param rule what the text must be, for the message if it is not
   * @param line of the verb
   * @return resolved; the port is 0 to 65535
   * @throws ParameterException with the rule, if the text has another form
   * @throws InputFault if nothing knows the host
   */
  public static InetSocketAddress of(String text, String usual, String rule, CommandLine line) {
    int colon = text.lastIndexOf(':');
    String host = colon < 0 ? usual : text.substring(0, colon);
    String port = text.substring(colon + 1);
    if (host.isEmpty() || !port.matches("[0-9]{1,5}") || Integer.parseInt(port) > HIGHEST_PORT) {
      throw new ParameterException(line, rule + ", and a port 0 to 65535: " + text);
    }
    InetSocketAddress address = new InetSocketAddress(host, Integer.parseInt(port));
    if (address.isUnresolved()) {
      throw new InputFault(
          host + ": no such host is known here: check the name, or give its address in numbers");
    }
    return address;
  }
}
