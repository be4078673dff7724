package indwell.usecase;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.adapter.store.memory.MemoryStore;
import indwell.contract.PlainFacility;
import indwell.contract.SharedValidator;
import indwell.domain.event.BedsideEvent;
import indwell.domain.event.Ward;
import indwell.domain.rule.AllRules;
import indwell.domain.rule.Bedside;
import indwell.domain.rule.RuleSettings;
import indwell.domain.time.FacilityCalendar;
import indwell.domain.timeline.EligibilityCount;
import indwell.domain.timeline.Timeline;
import indwell.fhir.map.EnteredInError;
import indwell.fhir.map.FhirJson;
import indwell.fhir.map.MappingContext;
import indwell.fhir.timeline.TimelineFromFhir;
import indwell.intake.EventBodies;
import indwell.intake.EventResult;
import indwell.intake.Outcome;
import indwell.port.ClinicalStore;
import indwell.port.ProfileValidator;
import indwell.port.ResourceQuery;
import indwell.port.StoredResource;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.hl7.fhir.r4.model.Resource;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * The same set of events ends in the same resources and answers whatever the order of arrival,
 * every resource on the way there meets its profile, and the answers can be had from the resources
 * alone.
 */
@DisplayNameGeneration(DisplayNameGenerator.ReplaceUnderscores.class)
class AnyOrderOfArrivalTest {
  private static final Instant NOW = RandomBodies.START.plus(Duration.ofDays(14));
  private static final FacilityCalendar BERLIN = new FacilityCalendar(ZoneId.of("Europe/Berlin"));
  private static final Facility FACILITY = PlainFacility.in(BERLIN.zone());
  private static final ProfileValidator VALIDATOR = SharedValidator.WARM;
  private static final LocalDate FIRST = LocalDate.parse("2026-03-25");

  @ParameterizedTest
  @ValueSource(longs = {11, 12, 13, 14, 15, 16, 17, 18, 19, 20, 21, 22, 23, 24, 25, 26, 27, 28})
  void any_order_ends_in_the_same_record(long seed) {
    List<String> bodies = new RandomBodies(seed).bodies();
    List<String> shuffled = new ArrayList<>(bodies);
    Collections.shuffle(shuffled, new Random(seed));

    try (ClinicalStore one = recorded(bodies);
        ClinicalStore other = recorded(shuffled)) {
      assertThat(contents(other)).isEqualTo(contents(one));
      assertThat(leftInError(other)).isEqualTo(leftInError(one));
      assertThat(answers(other)).isEqualTo(answers(one));
      assertThat(answersOf(fromResources(one))).isEqualTo(answersOf(fromEvents(one)));
    }
  }

  /** Contract, section 3: Patient and Location stay, so they have to be there in any order. */
  @Test
  void who_and_where_a_corrected_event_once_named_is_there_whichever_version_came_first() {
    String first = admission(1, "P-wrong", "ward-wrong");
    String corrected = admission(2, "P-right", "ward-right");

    try (ClinicalStore inOrder = recorded(List.of(first, corrected));
        ClinicalStore turned = recorded(List.of(corrected, first))) {
      assertThat(contents(turned)).isEqualTo(contents(inOrder));
      assertThat(contents(turned)).containsKeys("Location/ward-wrong", "Location/ward-right");
      assertThat(contents(turned).keySet())
          .filteredOn(key -> key.startsWith("Patient/"))
          .hasSize(2);
      assertThat(answers(turned)).isEqualTo(answers(inOrder));
    }
  }

  private static String admission(int version, String patient, String ward) {
    return """
        {"source":"s","eventId":"moved","version":%d,"type":"patient-admitted",
         "occurredAt":"2026-03-26T10:00:00Z","patient":{"system":"urn:p","value":"%s"},
         "encounter":{"system":"urn:s","value":"S"},"details":{"ward":"%s"}}"""
        .formatted(version, patient, ward);
  }

  private static ClinicalStore recorded(List<String> bodies) {
    ClinicalStore store = new MemoryStore();
    RecordEvents recordEvents =
        new RecordEvents(store, VALIDATOR, new MappingContext(BERLIN.zone()));
    for (String body : bodies) {
      EventResult result =
          recordEvents.record(EventBodies.line(body.getBytes(StandardCharsets.UTF_8), NOW), NOW);
      assertThat(result.outcome())
          .as("%s %s", body, result.issues())
          .isIn(Outcome.RECORDED, Outcome.SUPERSEDED);
    }
    return store;
  }

  /** Current resources without meta and Provenance, by type and id. */
  private static Map<String, String> contents(ClinicalStore store) {
    Map<String, String> contents = new TreeMap<>();
    current(store)
        .filter(resource -> !resource.fhirType().equals("Provenance"))
        .forEach(
            resource -> {
              resource.setId(resource.getIdPart()); // Without the version.
              resource.setMeta(null);
              contents.put(
                  resource.fhirType() + "/" + resource.getIdPart(), FhirJson.encode(resource));
            });
    return contents;
  }

  /**
   * What corrected and withdrawn versions made and nothing makes any more, by type and id. Not what
   * is worked out of several events: whether there was a use or a rate in between, and so is one to
   * be in error, depends on which of them were there together.
   */
  private static Set<String> leftInError(ClinicalStore store) {
    return ReadResources.TYPES.stream()
        .filter(type -> !type.equals("DeviceUseStatement"))
        .flatMap(type -> stored(store, type).stream())
        .filter(stored -> !stored.json().contains("urine-output-per-weight"))
        .map(stored -> FhirJson.parse(stored.json()))
        .filter(EnteredInError::isMarked)
        .map(resource -> resource.fhirType() + "/" + resource.getIdPart())
        .collect(Collectors.toCollection(TreeSet::new));
  }

  private static Stream<Resource> current(ClinicalStore store) {
    return ReadResources.TYPES.stream()
        .flatMap(type -> stored(store, type).stream())
        .map(stored -> FhirJson.parse(stored.json()))
        .filter(resource -> !EnteredInError.isMarked(resource));
  }

  private static List<StoredResource> stored(ClinicalStore store, String type) {
    ResourceQuery all =
        new ResourceQuery(type, Set.of(), Set.of(), Set.of(), Optional.empty(), 10_000);
    return store.read(state -> state.search(all));
  }

  private static List<Object> answers(ClinicalStore store) {
    List<Object> answers = new ArrayList<>();
    DeviceDays.Question fortnight =
        new DeviceDays.Question(Optional.empty(), FIRST, FIRST.plusDays(14));
    answers.add(new DeviceDays(store, FACILITY).count(fortnight, NOW));
    for (int days = 0; days <= 14; days++) {
      Instant asOf = RandomBodies.START.plus(Duration.ofDays(days));
      answers.add(new Overdue(store, FACILITY).at(asOf, Optional.empty(), NOW));
      answers.add(new Overdue(store, FACILITY).at(asOf, Optional.of(new Ward("ward-1")), NOW));
      for (String patient : patients(store)) {
        answers.add(new CatheterDays(store, FACILITY).of(patient, asOf, NOW));
      }
    }
    return answers.stream().map(Object::toString).collect(Collectors.toList());
  }

  private static List<String> patients(ClinicalStore store) {
    return stored(store, "Patient").stream()
        .map(patient -> patient.key().id())
        .filter(id -> !store.read(state -> state.currentEvents(id)).isEmpty())
        .toList();
  }

  private static List<Timeline> fromEvents(ClinicalStore store) {
    return patients(store).stream()
        .map(id -> Timeline.of(store.read(state -> PatientTimelines.eventsOf(state, id))))
        .toList();
  }

  private static List<Timeline> fromResources(ClinicalStore store) {
    Map<String, List<Resource>> byPatient = new TreeMap<>();
    for (String type : ReadResources.TYPES) {
      for (StoredResource stored : stored(store, type)) {
        byPatient
            .computeIfAbsent(stored.patientId(), id -> new ArrayList<>())
            .add(FhirJson.parse(stored.json()));
      }
    }
    return patients(store).stream()
        .map(id -> Timeline.of(TimelineFromFhir.events(byPatient.get(id))))
        .toList();
  }

  /** Stays, days, counts and flags of patients, in words. */
  private static List<String> answersOf(List<Timeline> timelines) {
    List<String> answers = new ArrayList<>();
    for (Timeline timeline : timelines) {
      for (int hours = 0; hours <= 14 * 24; hours += 7) {
        Instant asOf = RandomBodies.START.plus(Duration.ofHours(hours));
        answers.add(at(Timeline.asOf(timeline.events(), asOf), asOf));
      }
    }
    return answers;
  }

  private static String at(Timeline timeline, Instant asOf) {
    Bedside bedside = new Bedside(timeline, RuleSettings.DEFAULTS, BERLIN);
    EligibilityCount count = new EligibilityCount(timeline, BERLIN);
    return asOf
        + " ward "
        + timeline.wardAt(asOf).map(stay -> stay.ward().code() + stay.inpatient())
        + " counted "
        + timeline.catheterDayAt(asOf)
        + " days "
        + timeline.latestStayBegunBy(asOf).map(stay -> count.days(stay, asOf))
        + " flags "
        + AllRules.inForce(bedside, asOf).stream()
            .map(
                flag ->
                    flag.code()
                        + " "
                        + flag.since()
                        + " "
                        + flag.trace().finding()
                        + flag.trace().facts().stream().map(BedsideEvent::key).toList())
            .toList()
        + " remarks "
        + timeline.remarks();
  }
}
