package indwell.fhir.search;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.event.BedsideEvent;
import indwell.domain.timeline.Timeline;
import indwell.fhir.RandomEvents;
import indwell.fhir.Told;
import indwell.fhir.map.Draft;
import indwell.fhir.map.FhirJson;
import indwell.fhir.map.ResourcePlan;
import indwell.fhir.search.SearchParameter.Kind;
import indwell.fhir.search.SearchValue.Coded;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;
import org.hl7.fhir.instance.model.api.IBase;
import org.hl7.fhir.r4.model.BaseDateTimeType;
import org.hl7.fhir.r4.model.CodeableConcept;
import org.hl7.fhir.r4.model.Coding;
import org.hl7.fhir.r4.model.Enumeration;
import org.hl7.fhir.r4.model.Period;
import org.hl7.fhir.r4.model.PrimitiveType;
import org.hl7.fhir.r4.model.Reference;
import org.hl7.fhir.r4.model.Resource;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * The values that are read by hand are those that the expressions of R4's search parameters, and of
 * ours, find (https://hl7.org/fhir/R4/searchparameter-registry.html).
 */
class SearchValuesTest {
  /** Kept for every resource, and found elsewhere. */
  private static final Set<String> ELSEWHERE =
      Set.of("_id", "_lastUpdated", "identifier", "patient", "subject");

  @Provide
  Arbitrary<List<BedsideEvent>> histories() {
    return RandomEvents.histories();
  }

  @Property(tries = 60)
  void values_are_those_of_the_expressions(@ForAll("histories") List<BedsideEvent> history) {
    Set<String> types = new HashSet<>();
    for (Draft draft : ResourcePlan.of(Timeline.of(history), Told.BERLIN).drafts()) {
      Resource resource = draft.build();
      types.add(resource.fhirType());
      compare(resource);
    }
    assertThat(types)
        .isSubsetOf(
            Set.of(
                "Patient",
                "Location",
                "Encounter",
                "Device",
                "DeviceUseStatement",
                "Procedure",
                "Observation",
                "Specimen"));
  }

  @ParameterizedTest
  @MethodSource("cases")
  void values_of_the_cases_are_those_of_the_expressions(Path file) throws IOException {
    compare(FhirJson.parse(Files.readString(file)));
  }

  /** One of each type, flags and provenance among them. */
  static Stream<Path> cases() throws IOException {
    try (Stream<Path> files = Files.list(Path.of("fhir-profiles/cases/valid"))) {
      return files.sorted().toList().stream();
    }
  }

  private static void compare(Resource resource) {
    // A getter of the structures leaves an empty element where there was none.
    List<SearchValue> read = SearchValues.of(resource.copy());
    Set<String> named = new TreeSet<>();
    for (SearchParameter parameter : SearchParameters.of(resource.fhirType())) {
      if (!ELSEWHERE.contains(parameter.name())) {
        named.add(parameter.name());
        assertThat(
                read.stream()
                    .filter(value -> value.parameter().equals(parameter.name()))
                    .map(SearchValuesTest::shown)
                    .collect(Collectors.toSet()))
            .as("%s %s", parameter.name(), FhirJson.encode(resource))
            .isEqualTo(expected(resource, parameter));
      }
    }
    assertThat(read).extracting(SearchValue::parameter).isSubsetOf(named);
  }

  private static Set<String> expected(Resource resource, SearchParameter parameter) {
    String type = resource.fhirType();
    return Expressions.parts(type, Expressions.of(type, parameter)).stream()
        .flatMap(
            path -> FhirJson.context().newFhirPath().evaluate(resource, path, IBase.class).stream())
        .filter(found -> !found.isEmpty())
        .flatMap(found -> shown(found, parameter.kind()))
        .collect(Collectors.toSet());
  }

  private static String shown(SearchValue value) {
    return value instanceof Coded code
        ? code.system() + "|" + code.value()
        : ((SearchValue.Dated) value).low() + ".." + ((SearchValue.Dated) value).high();
  }

  private static Stream<String> shown(IBase found, Kind kind) {
    if (found instanceof CodeableConcept concept) {
      return concept.getCoding().stream().flatMap(coding -> shown(coding, kind));
    } else if (found instanceof Coding coding) {
      return Stream.of(coding.getSystem() + "|" + coding.getCode());
    } else if (found instanceof Enumeration<?> code) {
      return Stream.of(code.getSystem() + "|" + code.getCode());
    } else if (found instanceof Reference reference) {
      return Stream.of("|" + reference.getReference());
    } else if (found instanceof Period period) {
      String from = period.hasStart() ? first(period.getStartElement()) : "" + Long.MIN_VALUE;
      String to = period.hasEnd() ? last(period.getEndElement()) : "" + Long.MAX_VALUE;
      return Stream.of(from + ".." + to);
    } else if (found instanceof BaseDateTimeType time) {
      return Stream.of(first(time) + ".." + last(time));
    } else if (kind == Kind.TOKEN) {
      return Stream.of("|" + ((PrimitiveType<?>) found).getValueAsString());
    } else if (kind == Kind.STRING) {
      return Stream.of(
          "|" + ((PrimitiveType<?>) found).getValueAsString().toLowerCase(Locale.ROOT));
    }
    throw new AssertionError("Not looked at: " + found.getClass());
  }

  private static String first(BaseDateTimeType time) {
    return "" + time.getValue().getTime();
  }

  private static String last(BaseDateTimeType time) {
    boolean millis = time.getValueAsString().contains(".");
    return "" + (time.getValue().getTime() + (millis ? 1 : 1_000));
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "Patient",
        "Location",
        "Encounter",
        "Device",
        "DeviceUseStatement",
        "Procedure",
        "Observation",
        "Specimen",
        "Provenance",
        "Flag"
      })
  void every_parameter_has_the_kind_that_it_is_published_with(String type) {
    for (SearchParameter parameter : SearchParameters.of(type)) {
      if (!parameter.name().startsWith("_")) {
        assertThat(Expressions.kind(type, parameter))
            .as(parameter.name())
            .isEqualTo(parameter.kind().name().toLowerCase(Locale.ROOT));
      }
    }
  }

  @Test
  void a_type_that_is_not_searched_has_no_values() {
    assertThat(SearchValues.of(new org.hl7.fhir.r4.model.Basic())).isEmpty();
    assertThat(SearchParameters.find("Patient", "name")).isEmpty();
  }
}
