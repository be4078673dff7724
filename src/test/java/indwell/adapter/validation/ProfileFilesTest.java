package indwell.adapter.validation;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import indwell.port.ProfileValidator.Finding;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.Stream;
import org.hl7.fhir.r5.conformance.profile.ProfileUtilities;
import org.hl7.fhir.r5.model.ElementDefinition;
import org.hl7.fhir.r5.model.StructureDefinition;
import org.hl7.fhir.utilities.validation.ValidationMessage;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** Conventions of the files themselves. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class ProfileFilesTest {
  private static final String BASE = "https://indwell.example/fhir/";
  private static final String SNOMED = "http://snomed.info/sct";
  private static final String LOINC = "http://loinc.org";
  private static final String UCUM = "http://unitsofmeasure.org";

  private static final List<String> METADATA =
      List.of(
          "url",
          "version",
          "name",
          "title",
          "status",
          "experimental",
          "date",
          "publisher",
          "description",
          "jurisdiction",
          "copyright");

  static Stream<Path> conformance() {
    return Cases.conformance().stream();
  }

  static Stream<Path> structures() {
    return conformance().filter(file -> Cases.name(file).startsWith("StructureDefinition-"));
  }

  @Test
  void the_index_lists_every_file_in_order() {
    List<String> names = conformance().map(Cases::name).toList();
    assertThat(ProfileFiles.names()).isEqualTo(names);
  }

  @ParameterizedTest
  @MethodSource("conformance")
  void a_file_is_named_after_its_resource(Path file) {
    JsonNode one = Cases.json(file);
    String type = one.path("resourceType").asText();
    String id = one.path("id").asText();
    assertThat(Cases.name(file)).isEqualTo(type + "-" + id + ".json");
    assertThat(one.path("url").asText()).isEqualTo(BASE + type + "/" + id);
    assertThat(one.path("name").asText().toLowerCase()).isEqualTo(id.replace("-", ""));
  }

  @ParameterizedTest
  @MethodSource("conformance")
  void a_file_has_all_its_metadata(Path file) {
    JsonNode one = Cases.json(file);
    assertThat(one.path("status").asText()).isEqualTo("active");
    assertThat(one.path("experimental").asBoolean(true)).isFalse();
    assertThat(one.path("publisher").asText()).isEqualTo("Indwell");
    String type = one.path("resourceType").asText();
    for (String field : METADATA) {
      // R4 gives a SearchParameter no title, and no copyright to it and an OperationDefinition.
      boolean known = elements(type).contains(type + "." + field);
      assertThat(one.has(field)).as(field).isEqualTo(known);
    }
    String text = one.toString();
    String copyright = one.path("copyright").asText();
    boolean has = one.has("copyright");
    assertThat(copyright.contains("Apache License")).isEqualTo(has);
    assertThat(copyright.contains("SNOMED CT codes")).isEqualTo(has && text.contains(SNOMED));
    assertThat(copyright.contains("LOINC codes"))
        .isEqualTo(has && text.contains('"' + LOINC + '"'));
    assertThat(copyright.contains("UCUM codes")).isEqualTo(has && text.contains(UCUM));
  }

  private static List<String> elements(String type) {
    return Cases.definition("http://hl7.org/fhir/StructureDefinition/" + type)
        .getSnapshot()
        .getElement()
        .stream()
        .map(ElementDefinition::getPath)
        .toList();
  }

  @ParameterizedTest
  @MethodSource("conformance")
  void a_file_is_itself_valid_R4(Path file) {
    assertThat(Cases.VALIDATOR.validate(Cases.bytes(file))).filteredOn(Finding::isError).isEmpty();
  }

  @ParameterizedTest
  @MethodSource("structures")
  void a_profile_is_a_differential_whose_snapshot_generates_without_a_complaint(Path file) {
    JsonNode source = Cases.json(file);
    assertThat(source.has("snapshot")).isFalse();
    assertThat(source.path("derivation").asText()).isEqualTo("constraint");
    assertThat(source.path("fhirVersion").asText()).isEqualTo("4.0.1");

    List<ValidationMessage> messages = new ArrayList<>();
    StructureDefinition profile = Cases.definition(source.path("url").asText());
    StructureDefinition base = Cases.definition(profile.getBaseDefinition());
    StructureDefinition bare = profile.copy();
    bare.setSnapshot(null);
    new ProfileUtilities(Cases.COMPLETE, messages, null)
        .generateSnapshot(base, bare, bare.getUrl(), "", bare.getName());
    assertThat(messages).filteredOn(ValidationMessage::isError).isEmpty();
    assertThat(bare.getSnapshot().getElement().size())
        .isGreaterThanOrEqualTo(base.getSnapshot().getElement().size());
    assertThat(profile.getSnapshot().getElement()).hasSameSizeAs(bare.getSnapshot().getElement());
  }

  @ParameterizedTest
  @MethodSource("structures")
  void a_binding_or_extension_of_ours_exists(Path file) {
    JsonNode source = Cases.json(file);
    List<String> named = new ArrayList<>();
    source.findValues("valueSet").forEach(one -> named.add(one.asText()));
    source.findValues("profile").forEach(one -> one.forEach(url -> named.add(url.asText())));
    assertThat(named)
        .filteredOn(url -> url.startsWith(BASE))
        .allMatch(url -> conformance().anyMatch(one -> url.endsWith(tail(one))));
  }

  private static String tail(Path file) {
    return "/" + Cases.name(file).replaceFirst("-", "/").replace(".json", "");
  }

  /** SNOMED CT identifiers carry a Verhoeff check digit, LOINC codes one by mod 10. */
  @Test
  void every_SNOMED_and_LOINC_code_has_a_right_check_digit() {
    Map<String, String> codes = new TreeMap<>();
    conformance().forEach(file -> collect(Cases.json(file), codes));
    Cases.files(Cases.VALID, ".json").forEach(file -> collect(Cases.json(file), codes));
    assertThat(codes).containsEntry("410024004", SNOMED).containsEntry("9187-6", LOINC);
    codes.forEach(
        (code, system) ->
            assertThat(system.equals(SNOMED) ? CheckDigits.snomed(code) : CheckDigits.loinc(code))
                .as("%s|%s", system, code)
                .isTrue());
  }

  private static void collect(JsonNode node, Map<String, String> codes) {
    String system = node.path("system").asText();
    if (system.equals(SNOMED) || system.equals(LOINC)) {
      if (node.has("code")) {
        codes.put(node.path("code").asText(), system);
      }
      node.path("concept").forEach(one -> codes.put(one.path("code").asText(), system));
    }
    node.forEach(child -> collect(child, codes));
  }

  @Test
  void the_check_digits_are_checked() {
    // 45253006 and 45211000: FHIR notes, wrong codes that circulate (the first cannot exist).
    assertThat(CheckDigits.snomed("45253006")).isFalse();
    assertThat(CheckDigits.snomed("45211000")).isTrue();
    assertThat(CheckDigits.loinc("9187-6")).isTrue();
    assertThat(CheckDigits.loinc("9187-5")).isFalse();
  }
}
