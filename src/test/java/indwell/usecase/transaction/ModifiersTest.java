package indwell.usecase.transaction;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import indwell.adapter.store.memory.MemoryStore;
import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;
import indwell.fhir.Told;
import indwell.fhir.bundle.TakenProfile;
import indwell.fhir.map.FhirJson;
import indwell.port.ClinicalStore;
import indwell.usecase.transaction.Entry.Verb;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.stream.Stream;
import org.hl7.fhir.r4.model.BooleanType;
import org.hl7.fhir.r4.model.Observation;
import org.hl7.fhir.r4.model.Patient;
import org.hl7.fhir.r4.model.Resource;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * A resource whose meaning a modifier may turn round is not taken for what it says.
 *
 * <p>Source: https://hl7.org/fhir/R4/extensibility.html#modifierExtension,
 * https://hl7.org/fhir/R4/resource-definitions.html#Resource.implicitRules
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class ModifiersTest {
  private static final ObjectMapper JSON = new ObjectMapper();
  private static final String URL = "https://other.example/not-done";

  /** Elements of our profiles that can have a modifier of their own, beside the resource itself. */
  private static final String ELEMENTS =
      """
      catheter-stay | /location/0 | location[0].
      catheter-insertion | /focalDevice/0 | focalDevice[0].
      catheter-exchange | /focalDevice/1 | focalDevice[1].
      catheter-device | /property/0 | property[0].
      catheter-device | /udiCarrier/0 | udiCarrier[0].
      catheter-specimen | /collection | collection.
      """;

  @ParameterizedTest
  @MethodSource("places")
  void a_modifier_extension_is_refused_by_url_and_place(String profile, String at, String path)
      throws Exception {
    assertThat(refused(profile, at, "modifierExtension"))
        .containsExactly(
            "resource."
                + path
                + "modifierExtension[0] Modifier extension \""
                + URL
                + "\" at "
                + path
                + "modifierExtension[0] cannot be understood; expected a resource without it.");
  }

  @ParameterizedTest
  @MethodSource("profiles")
  void implicit_rules_are_refused_by_url_and_place(String profile) throws Exception {
    assertThat(refused(profile, "", "implicitRules"))
        .containsExactly(
            "resource.implicitRules Rules \""
                + URL
                + "\" at implicitRules cannot be understood; expected a resource without it.");
  }

  @Test
  void what_a_resource_contains_is_looked_at_too() throws Exception {
    List<Resource> story = story();
    int place = place(story, "catheter-body-weight");
    Patient contained = new Patient();
    contained.setId("p");
    contained.setImplicitRules(URL);
    ((Observation) story.get(place)).addContained(contained);
    ((Observation) story.get(place)).addPerformer().setReference("#p");

    try (ClinicalStore store = new MemoryStore()) {
      assertThat(TakenBundle.refusal(Bundled.posted(story), store).issues())
          .extracting(Issue::expression)
          .containsExactly("Bundle.entry[" + place + "].resource.contained[0].implicitRules");
    }
  }

  /** Taking back is an update, too: it might be meant the other way round. */
  @Test
  void a_correction_and_a_taking_back_with_a_modifier_are_refused() throws Exception {
    try (ClinicalStore store = new MemoryStore()) {
      TakenBundle.take(Bundled.posted(story()), store);
      List<Resource> story = story();
      Observation weight = (Observation) story.get(place(story, "catheter-body-weight"));
      weight.addModifierExtension().setUrl(URL).setValue(new BooleanType(true));
      for (Observation.ObservationStatus status :
          List.of(
              Observation.ObservationStatus.FINAL, Observation.ObservationStatus.ENTEREDINERROR)) {
        weight.setStatus(status);
        Entry update =
            Bundled.entry(0, Verb.PUT, "Observation/" + weight.getIdPart(), null, weight);

        assertThat(TakenBundle.refusal(List.of(update), store).issues())
            .extracting(Issue::code)
            .containsExactly(IssueCode.MODIFIER_NOT_UNDERSTOOD);
      }
    }
  }

  @Test
  void an_extension_that_modifies_nothing_is_left_out_and_told_of() throws Exception {
    List<Resource> story = story();
    int place = place(story, "catheter-body-weight");
    ((Observation) story.get(place)).addExtension(URL, new BooleanType(true));

    try (ClinicalStore store = new MemoryStore()) {
      List<Answer> answers = TakenBundle.take(Bundled.posted(story), store);

      assertThat(answers).extracting(Answer::status).containsOnly(201);
      assertThat(answers.get(place).remarks())
          .extracting(Issue::code)
          .containsExactly(IssueCode.NOT_KEPT);
    }
  }

  private static Stream<Arguments> places() {
    return Stream.concat(
        profiles().map(profile -> Arguments.of(profile, "", "")),
        ELEMENTS.lines().map(line -> Arguments.of((Object[]) line.split(" \\| ", -1))));
  }

  /** All that are taken. */
  private static Stream<String> profiles() {
    return Arrays.stream(TakenProfile.values()).map(one -> Bundled.last(one.canonical()));
  }

  private static List<Resource> story() {
    Told told =
        new Told()
            .admitted("A", "01 08:00")
            .weighed("70", "01 09:00")
            .inserted("c1", "02 08:00")
            .urine("300", 6, "02 14:00")
            .stillNeeded("c1", "03 09:00")
            .secured("c1", "04 09:00")
            .checked("c1", "04 10:00")
            .sampled("c1", "04 11:00")
            .exchanged("c1", "c2", "05 08:00")
            .removed("c2", "09 08:00")
            .discharged("10 08:00");
    return Bundled.resources(told.told(), Told.BERLIN);
  }

  private static int place(List<Resource> story, String profile) {
    for (int i = 0; i < story.size(); i++) {
      if (Bundled.profile(story.get(i)).equals(profile)) {
        return i;
      }
    }
    throw new AssertionError("No " + profile);
  }

  /** What is said of a modifier that is put into an element of the first resource of a profile. */
  private static List<String> refused(String profile, String at, String modifier) throws Exception {
    List<Resource> story = story();
    int place = place(story, profile);
    List<Entry> entries = new ArrayList<>(Bundled.posted(story));
    entries.set(place, with(entries.get(place), at, modifier));
    try (ClinicalStore store = new MemoryStore()) {
      Refused refused = TakenBundle.refusal(entries, store);

      assertThat(refused.status()).isEqualTo(422);
      assertThat(refused.issues())
          .extracting(Issue::code)
          .containsOnly(IssueCode.MODIFIER_NOT_UNDERSTOOD);
      assertThat(TakenBundle.patients(store)).isEmpty();
      String entry = "Bundle.entry[" + place + "].";
      return refused.issues().stream()
          .map(issue -> issue.expression().replace(entry, "") + " " + issue.diagnostics())
          .toList();
    }
  }

  private static Entry with(Entry entry, String at, String modifier) throws Exception {
    JsonNode resource = JSON.readTree(entry.json().orElseThrow());
    ObjectNode element = (ObjectNode) resource.at(at);
    if (modifier.equals("implicitRules")) {
      element.put(modifier, URL);
    } else {
      element.putArray(modifier).addObject().put("url", URL).put("valueBoolean", true);
    }
    return Bundled.entry(
        entry.index(),
        entry.verb(),
        entry.url(),
        entry.fullUrl().orElse(null),
        FhirJson.parse(resource.toString()));
  }
}
