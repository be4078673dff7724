package indwell.adapter.validation;

import static org.assertj.core.api.Assertions.assertThat;

import org.hl7.fhir.r5.model.ElementDefinition;
import org.hl7.fhir.r5.model.StructureDefinition;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

@DisplayNameGeneration(ReplaceUnderscores.class)
class PlainDefinitionTest {
  @ParameterizedTest
  @CsvSource({
    "CodeableConcept, coding, Coding",
    "Observation, code, CodeableConcept",
    "Patient, identifier, Identifier"
  })
  void a_complex_element_is_looked_at_as_one(String structure, String name, String type) {
    StructureDefinition profile = Cases.definition(BaseDefinitions.BASE + structure);
    ElementDefinition place = element(profile, structure + "." + name);
    assertThat(PlainPrimitive.of(Cases.COMPLETE, profile, place, name, type)).isEmpty();
    assertThat(PlainComplex.of(Cases.COMPLETE, profile, place, name, type)).isPresent();
  }

  @Test
  void a_value_set_that_is_for_some_resources_alone_is_for_the_library() {
    StructureDefinition profile = Cases.definition(BaseDefinitions.BASE + "Observation");
    ElementDefinition place = element(profile, "Observation.code").copy();
    assertThat(PlainDefinition.isFor(place, "code", "CodeableConcept")).isTrue();
    place.getBinding().addAdditional().setValueSet("http://one.example/x");
    assertThat(PlainDefinition.isFor(place, "code", "CodeableConcept")).isFalse();
  }

  private static ElementDefinition element(StructureDefinition profile, String id) {
    return profile.getSnapshot().getElement().stream()
        .filter(one -> one.getId().equals(id))
        .findFirst()
        .orElseThrow();
  }
}
