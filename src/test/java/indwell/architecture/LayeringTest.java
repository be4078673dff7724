package indwell.architecture;

import static com.tngtech.archunit.core.domain.JavaClass.Predicates.INTERFACES;
import static com.tngtech.archunit.core.domain.JavaClass.Predicates.assignableTo;
import static com.tngtech.archunit.lang.conditions.ArchConditions.be;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.classes;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.members;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;
import static com.tngtech.archunit.library.dependencies.SlicesRuleDefinition.slices;
import static indwell.architecture.Layers.layers;
import static indwell.architecture.Layers.layersAnd;

import com.tngtech.archunit.base.DescribedPredicate;
import com.tngtech.archunit.core.domain.AccessTarget.CodeUnitAccessTarget;
import com.tngtech.archunit.core.domain.JavaAccess;
import com.tngtech.archunit.core.domain.JavaAnnotation;
import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.core.domain.JavaConstructor;
import com.tngtech.archunit.core.domain.PackageMatcher;
import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.junit.AnalyzeClasses;
import com.tngtech.archunit.junit.ArchTest;
import com.tngtech.archunit.lang.ArchRule;
import com.tngtech.archunit.library.dependencies.SliceAssignment;
import com.tngtech.archunit.library.dependencies.SliceIdentifier;
import java.security.SecureRandom;
import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.time.MonthDay;
import java.time.OffsetDateTime;
import java.time.OffsetTime;
import java.time.Year;
import java.time.YearMonth;
import java.time.ZoneId;
import java.time.ZonedDateTime;
import java.util.Calendar;
import java.util.Date;
import java.util.List;
import java.util.Random;
import java.util.SplittableRandom;
import java.util.TimeZone;
import java.util.UUID;
import java.util.concurrent.ThreadLocalRandom;
import java.util.random.RandomGenerator;

/**
 * Who may import whom, one rule a field, its name the sentence. {@link LayeringBitesTest} proves
 * that each of them can fail.
 */
@AnalyzeClasses(packages = "indwell", importOptions = ImportOption.DoNotIncludeTests.class)
class LayeringTest {

  private static final String SCOPES = "jakarta.enterprise.context..";

  private static final String NEW = JavaConstructor.CONSTRUCTOR_NAME;

  /** A way to ask the machine for time, zone or chance: how the name of the method begins. */
  record Asked(Class<?> of, String name) {
    boolean isMeantBy(JavaAccess<?> access) {
      return access.getTargetOwner().isEquivalentTo(of)
          && (name.equals(NEW) ? makesOne(access) : access.getName().startsWith(name));
    }

    /** A Date may be made of a time that is known. */
    private boolean makesOne(JavaAccess<?> access) {
      return access.getName().equals(NEW)
          && (!of.equals(Date.class)
              || ((CodeUnitAccessTarget) access.getTarget()).getRawParameterTypes().isEmpty());
    }
  }

  static final List<Asked> MACHINE =
      List.of(
          new Asked(Instant.class, "now"),
          new Asked(LocalDate.class, "now"),
          new Asked(LocalTime.class, "now"),
          new Asked(LocalDateTime.class, "now"),
          new Asked(OffsetDateTime.class, "now"),
          new Asked(OffsetTime.class, "now"),
          new Asked(ZonedDateTime.class, "now"),
          new Asked(YearMonth.class, "now"),
          new Asked(Year.class, "now"),
          new Asked(MonthDay.class, "now"),
          new Asked(Clock.class, "system"),
          new Asked(Clock.class, "tickMillis"),
          new Asked(Clock.class, "tickSeconds"),
          new Asked(Clock.class, "tickMinutes"),
          new Asked(System.class, "currentTimeMillis"),
          new Asked(Date.class, NEW),
          new Asked(Calendar.class, "getInstance"),
          new Asked(ZoneId.class, "systemDefault"),
          new Asked(TimeZone.class, "getDefault"),
          new Asked(UUID.class, "randomUUID"),
          new Asked(Math.class, "random"),
          new Asked(StrictMath.class, "random"),
          new Asked(Random.class, NEW),
          new Asked(SplittableRandom.class, NEW),
          new Asked(SecureRandom.class, NEW),
          new Asked(SecureRandom.class, "getInstance"),
          new Asked(ThreadLocalRandom.class, "current"),
          new Asked(RandomGenerator.class, "getDefault"));

  @ArchTest
  static final ArchRule domain_depends_on_java_and_itself_alone =
      classes()
          .that()
          .resideInAnyPackage(layers("domain"))
          .should()
          .onlyDependOnClassesThat()
          .resideInAnyPackage(layersAnd(layers("domain"), "java.."));

  @ArchTest
  static final ArchRule access_is_decided_by_java_and_itself_alone =
      classes()
          .that()
          .resideInAnyPackage(layers("access"))
          .should()
          .onlyDependOnClassesThat()
          .resideInAnyPackage(layersAnd(layers("access"), "java.."));

  @ArchTest
  static final ArchRule only_the_adapters_of_tokens_know_the_token_library =
      noClasses()
          .that()
          .resideOutsideOfPackages(layers("adapter.token", "adapter.upstream"))
          .should()
          .dependOnClassesThat()
          .resideInAnyPackage("com.nimbusds..");

  @ArchTest
  static final ArchRule intake_adds_to_the_domain_a_json_parser_alone =
      classes()
          .that()
          .resideInAnyPackage(layers("intake"))
          .should()
          .onlyDependOnClassesThat()
          .resideInAnyPackage(
              layersAnd(layers("domain", "intake"), "java..", "com.fasterxml.jackson.core.."));

  @ArchTest
  static final ArchRule fhir_adds_to_the_domain_the_fhir_structures_alone =
      classes()
          .that()
          .resideInAnyPackage(layers("fhir"))
          .should()
          .onlyDependOnClassesThat()
          .resideInAnyPackage(
              layersAnd(
                  layers("domain", "fhir"),
                  "java..",
                  "org.hl7.fhir.r4..",
                  "org.hl7.fhir.instance.model.api..",
                  "ca.uhn.fhir.context..",
                  "ca.uhn.fhir.parser..",
                  "ca.uhn.fhir.model..",
                  "ca.uhn.fhir.util.."));

  @ArchTest
  static final ArchRule a_port_is_an_interface_a_value_or_the_way_one_fails =
      classes()
          .that()
          .resideInAnyPackage(layers("port"))
          .should(
              be(
                  INTERFACES
                      .or(assignableTo(Record.class))
                      .or(assignableTo(Enum.class))
                      .or(assignableTo(Throwable.class))));

  @ArchTest
  static final ArchRule ports_know_the_domain_and_fhir_alone =
      classes()
          .that()
          .resideInAnyPackage(layers("port"))
          .should()
          .onlyDependOnClassesThat()
          .resideInAnyPackage(
              layersAnd(
                  layers("domain", "fhir", "port"), "java..", "org.hl7.fhir..", "ca.uhn.fhir.."));

  @ArchTest
  static final ArchRule use_cases_know_no_framework_and_no_database =
      noClasses()
          .that()
          .resideInAnyPackage(layers("usecase"))
          .should()
          .dependOnClassesThat()
          .resideInAnyPackage(
              layersAnd(
                  layers("web", "adapter", "boot"),
                  "jakarta..",
                  "io.quarkus..",
                  "io.vertx..",
                  "java.sql..",
                  "javax.sql.."));

  @ArchTest
  static final ArchRule adapters_see_neither_web_nor_use_cases_nor_boot =
      noClasses()
          .that()
          .resideInAnyPackage(layers("adapter"))
          .should()
          .dependOnClassesThat()
          .resideInAnyPackage(layers("web", "usecase", "boot"));

  @ArchTest
  static final ArchRule web_sees_neither_adapters_nor_boot =
      noClasses()
          .that()
          .resideInAnyPackage(layers("web"))
          .should()
          .dependOnClassesThat()
          .resideInAnyPackage(layers("adapter", "boot"));

  @ArchTest
  static final ArchRule only_the_statistics_adapter_knows_the_statistics_library =
      noClasses()
          .that()
          .resideOutsideOfPackages(layers("adapter.statistics"))
          .should()
          .dependOnClassesThat()
          .resideInAnyPackage("org.apache.commons.statistics..", "org.apache.commons.numbers..");

  @ArchTest
  static final ArchRule only_boot_knows_the_library_of_figures =
      noClasses()
          .that()
          .resideOutsideOfPackages(layers("boot"))
          .should()
          .dependOnClassesThat()
          .resideInAnyPackage("io.micrometer..", "io.prometheus..");

  @ArchTest
  static final ArchRule only_boot_knows_the_library_of_traces =
      noClasses()
          .that()
          .resideOutsideOfPackages(layers("boot"))
          .should()
          .dependOnClassesThat()
          .resideInAnyPackage("io.opentelemetry..");

  @ArchTest
  static final ArchRule only_boot_produces_beans =
      members()
          .that()
          .areDeclaredInClassesThat()
          .resideOutsideOfPackages(layers("boot"))
          .should()
          .notBeAnnotatedWith("jakarta.enterprise.inject.Produces");

  @ArchTest
  static final ArchRule only_boot_and_web_have_scopes =
      classes()
          .that()
          .resideOutsideOfPackages(layers("boot", "web"))
          .should()
          .notBeAnnotatedWith(resideIn(SCOPES))
          .andShould()
          .notBeAnnotatedWith("jakarta.inject.Singleton");

  @ArchTest
  static final ArchRule only_boot_asks_the_machine_for_time_zone_or_chance =
      noClasses()
          .that()
          .resideOutsideOfPackages(layers("boot"))
          .should()
          .accessTargetWhere(asksTheMachine());

  /**
   * A stopwatch says how long something took or may still take, never what is answered; those at
   * the edge, who wait for others, may hold one. To a use case boot hands it.
   */
  @ArchTest
  static final ArchRule only_boot_web_and_adapters_hold_a_stopwatch =
      noClasses()
          .that()
          .resideOutsideOfPackages(layers("boot", "web", "adapter"))
          .should()
          .accessTargetWhere(
              DescribedPredicate.describe(
                  "starts a stopwatch",
                  access -> new Asked(System.class, "nanoTime").isMeantBy(access)));

  @ArchTest
  static final ArchRule packages_form_no_circle =
      slices().assignedFrom(packagesWithBootAsOne()).should().beFreeOfCycles();

  @ArchTest
  static final ArchRule every_class_lies_in_a_named_package =
      classes().should().resideInAnyPackage(Layers.NAMED.toArray(String[]::new));

  /** Boot wires all others together; how it sorts its own files is its own affair. */
  private static SliceAssignment packagesWithBootAsOne() {
    return new SliceAssignment() {
      @Override
      public SliceIdentifier getIdentifierOf(JavaClass one) {
        String name = one.getPackageName();
        return SliceIdentifier.of(name.startsWith("indwell.boot") ? "indwell.boot" : name);
      }

      @Override
      public String getDescription() {
        return "packages, boot as one";
      }
    };
  }

  private static DescribedPredicate<JavaAnnotation<?>> resideIn(String packages) {
    return DescribedPredicate.describe(
        "a scope",
        annotation ->
            PackageMatcher.of(packages).matches(annotation.getRawType().getPackageName()));
  }

  /** A call of such a method, or a reference to it that is handed on. */
  private static DescribedPredicate<JavaAccess<?>> asksTheMachine() {
    return DescribedPredicate.describe(
        "asks the machine", access -> MACHINE.stream().anyMatch(one -> one.isMeantBy(access)));
  }
}
