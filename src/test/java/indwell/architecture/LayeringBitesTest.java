package indwell.architecture;

import static org.assertj.core.api.Assertions.assertThat;

import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.junit.ArchTest;
import com.tngtech.archunit.lang.ArchRule;
import indwell.architecture.planted.adapter.HasScope;
import indwell.architecture.planted.circle.one.There;
import indwell.architecture.planted.elsewhere.Anywhere;
import indwell.architecture.planted.fhir.KnowsJakarta;
import indwell.architecture.planted.port.DoesSomething;
import indwell.architecture.planted.usecase.AsksTheMachine;
import indwell.architecture.planted.usecase.HoldsAStopwatch;
import indwell.architecture.planted.usecase.KnowsDistributions;
import indwell.architecture.planted.usecase.KnowsFigures;
import indwell.architecture.planted.usecase.KnowsTokens;
import indwell.architecture.planted.usecase.KnowsTraces;
import indwell.architecture.planted.usecase.ProducesBeans;
import indwell.architecture.planted.web.KnowsAdapter;
import java.lang.reflect.Field;
import java.lang.reflect.Method;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** A rule that cannot fail is none: each one fails on the violator that was planted for it. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class LayeringBitesTest {

  private static final Map<String, Class<?>> VIOLATORS =
      Map.ofEntries(
          Map.entry(
              "domain_depends_on_java_and_itself_alone",
              indwell.architecture.planted.domain.KnowsFhir.class),
          Map.entry(
              "access_is_decided_by_java_and_itself_alone",
              indwell.architecture.planted.access.KnowsHttp.class),
          Map.entry("only_the_adapters_of_tokens_know_the_token_library", KnowsTokens.class),
          Map.entry(
              "intake_adds_to_the_domain_a_json_parser_alone",
              indwell.architecture.planted.intake.KnowsFhir.class),
          Map.entry("fhir_adds_to_the_domain_the_fhir_structures_alone", KnowsJakarta.class),
          Map.entry("a_port_is_an_interface_a_value_or_the_way_one_fails", DoesSomething.class),
          Map.entry(
              "ports_know_the_domain_and_fhir_alone",
              indwell.architecture.planted.port.KnowsSql.class),
          Map.entry(
              "use_cases_know_no_framework_and_no_database",
              indwell.architecture.planted.usecase.KnowsSql.class),
          Map.entry(
              "adapters_see_neither_web_nor_use_cases_nor_boot",
              indwell.architecture.planted.adapter.KnowsUseCase.class),
          Map.entry("web_sees_neither_adapters_nor_boot", KnowsAdapter.class),
          Map.entry(
              "only_the_statistics_adapter_knows_the_statistics_library", KnowsDistributions.class),
          Map.entry("only_boot_knows_the_library_of_figures", KnowsFigures.class),
          Map.entry("only_boot_knows_the_library_of_traces", KnowsTraces.class),
          Map.entry("only_boot_produces_beans", ProducesBeans.class),
          Map.entry("only_boot_and_web_have_scopes", HasScope.class),
          Map.entry("only_boot_asks_the_machine_for_time_zone_or_chance", AsksTheMachine.class),
          Map.entry("only_boot_web_and_adapters_hold_a_stopwatch", HoldsAStopwatch.class),
          Map.entry("packages_form_no_circle", There.class),
          Map.entry("every_class_lies_in_a_named_package", Anywhere.class));

  private static final JavaClasses PLANTED = new ClassFileImporter().importPackages(Layers.PLANTED);

  @ParameterizedTest(name = "{0}")
  @MethodSource("rules")
  void each_rule_fails_on_its_violator(String rule) throws ReflectiveOperationException {
    Field field = LayeringTest.class.getDeclaredField(rule);
    field.setAccessible(true);

    List<String> failures =
        ((ArchRule) field.get(null)).evaluate(PLANTED).getFailureReport().getDetails();

    assertThat(failures).anySatisfy(one -> assertThat(one).contains(VIOLATORS.get(rule).getName()));
  }

  static Stream<String> rules() {
    return Arrays.stream(LayeringTest.class.getDeclaredFields())
        .filter(field -> field.isAnnotationPresent(ArchTest.class))
        .map(Field::getName);
  }

  @Test
  void each_rule_has_a_violator_and_each_violator_a_rule() {
    assertThat(rules()).containsExactlyInAnyOrderElementsOf(VIOLATORS.keySet());
  }

  @ParameterizedTest(name = "{0}")
  @MethodSource("asked")
  void every_way_to_ask_the_machine_is_seen(Method planted) {
    ArchRule rule =
        planted.getDeclaringClass().equals(AsksTheMachine.class)
            ? LayeringTest.only_boot_asks_the_machine_for_time_zone_or_chance
            : LayeringTest.only_boot_web_and_adapters_hold_a_stopwatch;

    assertThat(rule.evaluate(PLANTED).getFailureReport().getDetails())
        .anySatisfy(
            one ->
                assertThat(one)
                    .contains(
                        planted.getDeclaringClass().getName() + "." + planted.getName() + "()"));
  }

  static Stream<Method> asked() {
    return Stream.of(AsksTheMachine.class, HoldsAStopwatch.class)
        .flatMap(violator -> Arrays.stream(violator.getDeclaredMethods()))
        .filter(method -> !method.isSynthetic());
  }

  @Test
  void every_way_to_ask_the_machine_is_planted() {
    JavaClass violator = PLANTED.get(AsksTheMachine.class);

    for (LayeringTest.Asked one : LayeringTest.MACHINE) {
      assertThat(violator.getAccessesFromSelf()).as(one.toString()).anyMatch(one::isMeantBy);
    }
  }

  @ParameterizedTest(name = "{0}")
  @MethodSource("named")
  void no_named_package_is_empty(String name) {
    JavaClasses all =
        new ClassFileImporter()
            .withImportOption(new ImportOption.DoNotIncludeTests())
            .importPackages(name);

    assertThat(all)
        .filteredOn(one -> !one.getSimpleName().equals("package-info"))
        .anySatisfy(one -> assertThat(one.getPackageName()).isEqualTo(name));
  }

  static Stream<String> named() {
    return Layers.NAMED.stream();
  }
}
