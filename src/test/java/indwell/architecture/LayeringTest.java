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
import com.tngtech.archunit.core.domain.JavaAnnotation;
import com.tngtech.archunit.core.domain.JavaCall;
import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.core.domain.PackageMatcher;
import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.junit.AnalyzeClasses;
import com.tngtech.archunit.junit.ArchTest;
import com.tngtech.archunit.lang.ArchRule;
import com.tngtech.archunit.library.dependencies.SliceAssignment;
import com.tngtech.archunit.library.dependencies.SliceIdentifier;
import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.OffsetDateTime;
import java.time.ZoneId;
import java.time.ZonedDateTime;
import java.util.Map;
import java.util.Random;
import java.util.UUID;

/**
 * Who may import whom, one rule a field, its name the sentence. {@link LayeringBitesTest} proves
 * that each of them can fail.
 */
@AnalyzeClasses(packages = "indwell", importOptions = ImportOption.DoNotIncludeTests.class)
class LayeringTest {

  private static final String SCOPES = "jakarta.enterprise.context..";

  /** Whom to ask for time, zone or chance, and how the names of those methods begin. */
  private static final Map<Class<?>, String> MACHINE =
      Map.of(
          Instant.class, "now",
          LocalDate.class, "now",
          LocalDateTime.class, "now",
          OffsetDateTime.class, "now",
          ZonedDateTime.class, "now",
          Clock.class, "system",
          System.class, "currentTimeMillis",
          UUID.class, "randomUUID",
          ZoneId.class, "systemDefault");

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
          .callMethodWhere(asksTheMachine())
          .orShould()
          .callConstructor(Random.class);

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

  private static DescribedPredicate<JavaCall<?>> asksTheMachine() {
    return DescribedPredicate.describe(
        "asks the machine",
        call ->
            MACHINE.entrySet().stream()
                .anyMatch(
                    one ->
                        call.getTargetOwner().isEquivalentTo(one.getKey())
                            && call.getName().startsWith(one.getValue())));
  }
}
