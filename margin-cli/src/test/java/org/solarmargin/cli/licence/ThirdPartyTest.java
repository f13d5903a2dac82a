package org.solarmargin.cli.licence;

import static org.junit.jupiter.api.Assertions.assertNotNull;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.IOException;
import java.io.InputStream;
import java.net.URI;
import java.net.URL;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collections;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.zip.ZipEntry;
import java.util.zip.ZipFile;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** Compares the list of third-party components and their texts with the libraries' jars. */
class ThirdPartyTest {

  /**
   * The licences permitted in margin.jar with a sentence of each. All allow use, modification and
   * sale without an obligation to publish source (texts at spdx.org/licenses).
   */
  private static final Map<String, String> PERMISSIVE =
      Map.of(
          "Apache-2.0", "Apache License",
          "MIT", "Permission is hereby granted, free of charge",
          "BSD-2-Clause", "Redistribution and use in source and binary forms",
          "BSD-3-Clause", "Redistribution and use in source and binary forms",
          "BSL-1.0", "BSL License",
          "Minpack", "Minpack Copyright Notice");

  private static final String LEGAL = "(?i)(META-INF/|.*/)?(thirdparty-)?(LICEN[CS]E|NOTICE)[^/]*";

  static List<Component> components() throws IOException {
    return Component.all();
  }

  @Test
  void noComponentIsListedTwice() throws IOException {
    Set<String> names = new HashSet<>();
    for (Component component : components()) {
      assertTrue(names.add(component.toString()), () -> component + " is listed twice");
    }
  }

  @ParameterizedTest
  @MethodSource("components")
  void everyLicenceIsPermissiveAndItsTextIncluded(Component component) throws IOException {
    String text = plain(text(component));
    assertTrue(text.contains("Copyright"), "no copyright in " + component.text());
    for (String licence : component.licences()) {
      String sentence = PERMISSIVE.get(licence);
      assertNotNull(sentence, licence + " is not among the permissive licences");
      assertTrue(text.contains(sentence), component.text() + " lacks the text of " + licence);
    }
  }

  /** Detects an update with another licence, copyright or notice. */
  @ParameterizedTest
  @MethodSource("components")
  void textsOfTheLibrarysOwnJarAreKept(Component component) throws IOException {
    Optional<Path> jar = jarOf(component);
    assumeTrue(jar.isPresent(), component + " is not on the class path as a jar");
    String kept = plain(text(component));
    try (ZipFile zip = new ZipFile(jar.get().toFile())) {
      for (ZipEntry entry : zip.stream().filter(e -> e.getName().matches(LEGAL)).toList()) {
        if (entry.isDirectory() || entry.getName().endsWith(".class")) {
          continue;
        }
        try (InputStream in = zip.getInputStream(entry)) {
          String own = plain(new String(in.readAllBytes(), StandardCharsets.UTF_8));
          assertTrue(kept.contains(own), component.text() + " lacks " + jar.get() + "!" + entry);
        }
      }
    }
  }

  /**
   * Jars on the class path are laid out as in a Maven repository: group, artifact, version, file.
   */
  private static Optional<Path> jarOf(Component component) throws IOException {
    Path place = Path.of(component.group().replace('.', '/'), component.artifact());
    List<Path> found = new ArrayList<>();
    for (URL manifest :
        Collections.list(
            ThirdPartyTest.class.getClassLoader().getResources("META-INF/MANIFEST.MF"))) {
      if (manifest.getProtocol().equals("jar")) {
        String file = manifest.getPath();
        Path jar = Path.of(URI.create(file.substring(0, file.indexOf("!/"))));
        if (jar.getParent().getParent().endsWith(place)) {
          found.add(jar);
        }
      }
    }
    assertTrue(found.size() <= 1, () -> component + " is on the class path twice: " + found);
    return found.stream().findFirst();
  }

  private static String text(Component component) throws IOException {
    try (InputStream in =
        ThirdPartyTest.class.getResourceAsStream("/" + Component.FOLDER + component.text())) {
      assertNotNull(in, component.text() + " is missing");
      return new String(in.readAllBytes(), StandardCharsets.UTF_8);
    }
  }

  /** Collapses white space, because layout is not part of a licence. */
  static String plain(String text) {
    return text.replaceAll("\\s+", " ").strip();
  }
}
