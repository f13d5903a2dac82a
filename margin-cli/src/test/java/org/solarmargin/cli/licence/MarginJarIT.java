package org.solarmargin.cli.licence;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.zip.ZipEntry;
import java.util.zip.ZipFile;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

/** Every file in margin.jar has its licence there; runs in {@code mvn verify} after packaging. */
class MarginJarIT {

  private static final Path JAR = Path.of("target", "margin.jar");

  /** The project's own files, and those of the jar itself. */
  private static final List<String> OWN =
      List.of(
          "org/solarmargin/",
          "META-INF/third-party/",
          "META-INF/services/",
          "META-INF/MANIFEST.MF",
          "META-INF/LICENSE",
          "META-INF/NOTICE");

  private static final Pattern MAVEN = Pattern.compile("META-INF/maven/([^/]+)/([^/]+)/.*");

  private static ZipFile jar;

  @BeforeAll
  static void open() throws IOException {
    assumeTrue(Files.exists(JAR), JAR + " does not exist yet: mvn package builds it");
    jar = new ZipFile(JAR.toFile());
  }

  @AfterAll
  static void close() throws IOException {
    if (jar != null) {
      jar.close();
    }
  }

  @Test
  void everyFileBelongsToAListedComponent() throws IOException {
    List<String> known = new ArrayList<>(OWN);
    Set<String> names = new TreeSet<>();
    for (Component component : Component.all()) {
      known.addAll(component.entries());
      names.add(component.toString());
    }
    Set<String> unlisted = new TreeSet<>();
    for (String name : files()) {
      Matcher maven = MAVEN.matcher(name);
      boolean listed =
          maven.matches()
              ? maven.group(1).equals("org.solarmargin")
                  || names.contains(maven.group(1) + ":" + maven.group(2))
              : known.stream().anyMatch(name::startsWith);
      if (!listed) {
        unlisted.add(name);
      }
    }
    assertEquals(Set.of(), unlisted, "files of no component in components.csv");
  }

  @Test
  void everyListedComponentIsInside() throws IOException {
    List<String> files = files();
    for (Component component : Component.all()) {
      for (String start : component.entries()) {
        assertTrue(
            files.stream().anyMatch(name -> name.startsWith(start)), component + ": " + start);
      }
    }
  }

  @Test
  void everyLicenceTextIsInside() throws IOException {
    for (Component component : Component.all()) {
      assertTrue(read(Component.FOLDER + component.text()).length() > 100, component.toString());
    }
  }

  @Test
  void licenceAndNoticeAreTheProjectsOwn() throws IOException {
    assertEquals(Files.readString(Path.of("..", "LICENSE")), read("META-INF/LICENSE"));
    assertEquals(Files.readString(Path.of("..", "NOTICE")), read("META-INF/NOTICE"));
  }

  /** Names without the prefix for a specific Java version. */
  private static List<String> files() {
    return jar.stream()
        .filter(entry -> !entry.isDirectory())
        .map(entry -> entry.getName().replaceFirst("^META-INF/versions/\\d+/", ""))
        .toList();
  }

  private static String read(String name) throws IOException {
    ZipEntry entry = jar.getEntry(name);
    assertTrue(entry != null, name + " is missing");
    try (InputStream in = jar.getInputStream(entry)) {
      return new String(in.readAllBytes(), StandardCharsets.UTF_8);
    }
  }
}
