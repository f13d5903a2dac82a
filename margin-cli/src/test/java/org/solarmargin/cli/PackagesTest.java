package org.solarmargin.cli;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;
import static com.tngtech.archunit.library.dependencies.SlicesRuleDefinition.slices;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.solarmargin.core.monitor.MarginMonitor;
import org.solarmargin.sim.scenario.Scenario;

/**
 * Dependencies point one way: packages are free of cycles, and lower layers do not depend on higher
 * ones.
 */
class PackagesTest {

  private static final String ROOT = "org.solarmargin";

  /** With fewer classes a module is missing and the rules would be checked on too little. */
  private static final int LEAST_CLASSES = 400;

  /** Classes of the three modules as built, without their tests. */
  private static final JavaClasses CLASSES =
      new ClassFileImporter()
          .importUrls(
              Stream.of(Main.class, Scenario.class, MarginMonitor.class)
                  .map(one -> one.getProtectionDomain().getCodeSource().getLocation())
                  .collect(Collectors.toSet()));

  @Test
  void packagesAreFreeOfCycles() {
    assertTrue(CLASSES.size() > LEAST_CLASSES, () -> "only " + CLASSES.size() + " classes");
    slices().matching(ROOT + ".(**)").should().beFreeOfCycles().check(CLASSES);
  }

  @Test
  void theCoreNeedsTheJdkAlone() {
    noClasses()
        .that()
        .resideInAPackage(ROOT + ".core..")
        .should()
        .dependOnClassesThat()
        .resideOutsideOfPackages(ROOT + ".core..", "java..")
        .check(CLASSES);
  }

  @Test
  void theSimulatorDoesNotKnowTheCommandLine() {
    noClasses()
        .that()
        .resideInAPackage(ROOT + ".sim..")
        .should()
        .dependOnClassesThat()
        .resideInAnyPackage(ROOT + ".cli..", "org.slf4j..")
        .check(CLASSES);
  }

  @Test
  void theFitsCanBeUsedWithoutACommandLine() {
    noClasses()
        .that()
        .resideInAnyPackage(
            ROOT + ".cli.fit.sweep..", ROOT + ".cli.fit.rotor..", ROOT + ".cli.tune.rule..")
        .should()
        .dependOnClassesThat()
        .resideInAnyPackage("picocli..", ROOT + ".cli.option..", ROOT + ".cli.report..")
        .check(CLASSES);
  }
}
