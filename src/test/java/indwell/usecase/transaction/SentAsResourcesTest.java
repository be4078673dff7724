package indwell.usecase.transaction;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.adapter.store.memory.MemoryStore;
import indwell.contract.PlainFacility;
import indwell.contract.SharedValidator;
import indwell.domain.event.BedsideEvent;
import indwell.domain.event.CatheterEvent.SpecimenCollection;
import indwell.fhir.RandomEvents;
import indwell.fhir.map.Bare;
import indwell.fhir.map.MappingContext;
import indwell.fhir.map.ResourceId;
import indwell.intake.EventReader;
import indwell.intake.EventTree;
import indwell.intake.Outcome;
import indwell.port.AuditEntry.Origin;
import indwell.port.ClinicalStore;
import indwell.port.ProfileValidator;
import indwell.port.ResourceQuery;
import indwell.port.StoredResource;
import indwell.usecase.CatheterDays;
import indwell.usecase.DeviceDays;
import indwell.usecase.Facility;
import indwell.usecase.Overdue;
import indwell.usecase.ReadResources;
import indwell.usecase.RecordEvents;
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
import net.jqwik.api.Arbitrary;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;
import org.hl7.fhir.r4.model.Resource;

/**
 * The resources that events make, sent as one transaction in any order, leave the same record as
 * the events themselves: the same current resources, meta and Provenance aside, and the same
 * answers.
 */
class SentAsResourcesTest {
  private static final Instant NOW = Instant.parse("2026-04-10T12:00:00Z");
  private static final LocalDate FIRST = LocalDate.parse("2026-03-25");
  private static final ProfileValidator VALIDATOR = SharedValidator.WARM;
  private static final MappingContext BERLIN = new MappingContext(ZoneId.of("Europe/Berlin"));
  private static final Facility FACILITY = PlainFacility.in(BERLIN.zone());

  @Property(tries = 60)
  void resources_in_a_transaction_say_what_the_events_say(
      @ForAll("histories") List<BedsideEvent> events, @ForAll Random random) {
    List<Resource> resources = Bundled.resources(events, BERLIN);
    Collections.shuffle(resources, random);
    List<Entry> entries = Bundled.posted(resources);

    try (ClinicalStore told = new MemoryStore();
        ClinicalStore sent = new MemoryStore()) {
      record(events, told);
      List<Answer> first = take(entries, sent);

      assertThat(first).extracting(Answer::status).allMatch(status -> status == 201);
      assertThat(first).flatExtracting(Answer::remarks).isEmpty();
      assertThat(contents(sent)).isEqualTo(contents(told));
      assertThat(answers(sent)).isEqualTo(answers(told));

      Map<String, String> before = written(sent);
      List<Answer> again = take(entries, sent);

      assertThat(again).extracting(Answer::status).allMatch(status -> status == 200);
      assertThat(again)
          .extracting(answer -> answer.resource().orElseThrow())
          .isEqualTo(first.stream().map(answer -> answer.resource().orElseThrow()).toList());
      assertThat(written(sent)).isEqualTo(before);
    }
  }

  private static List<Answer> take(List<Entry> entries, ClinicalStore store) {
    try {
      return new RecordBundle(store, VALIDATOR, VALIDATOR, BERLIN)
          .take(entries, Bundled.BASE, NOW, Origin.SERVICE, state -> "")
          .answers();
    } catch (Refused refused) {
      throw new AssertionError(refused.status() + " " + refused.issues());
    }
  }

  private static void record(List<BedsideEvent> events, ClinicalStore store) {
    RecordEvents recordEvents = new RecordEvents(store, VALIDATOR, BERLIN);
    for (BedsideEvent event : events) {
      var reading = EventReader.read(EventTree.of(event, 1), List.of(), NOW);
      assertThat(recordEvents.record(reading, NOW).outcome()).isEqualTo(Outcome.RECORDED);
    }
  }

  /**
   * Current resources without meta, by reference. What only stood between one event and the next,
   * and no event makes any more, is none of them.
   */
  private static Map<String, String> contents(ClinicalStore store) {
    Map<String, String> contents = new TreeMap<>();
    for (String type : ReadResources.TYPES) {
      if (!type.equals("Provenance")) {
        stored(store, type).stream()
            .filter(one -> !one.json().contains("\"status\":\"entered-in-error\""))
            .forEach(
                one ->
                    contents.put(
                        one.key().reference(), one.json().replaceFirst("\"meta\":\\{[^}]*},", "")));
      }
    }
    return contents;
  }

  /** All that is stored, meta and Provenance included. */
  private static Map<String, String> written(ClinicalStore store) {
    Map<String, String> contents = new TreeMap<>();
    for (String type : ReadResources.TYPES) {
      stored(store, type).forEach(one -> contents.put(one.key().reference(), one.json()));
    }
    return contents;
  }

  private static List<StoredResource> stored(ClinicalStore store, String type) {
    return store.read(
        state ->
            state.search(
                new ResourceQuery(type, Set.of(), Set.of(), Set.of(), Optional.empty(), 10_000)));
  }

  private static List<String> answers(ClinicalStore store) {
    List<String> answers = new ArrayList<>();
    DeviceDays.Question fortnight =
        new DeviceDays.Question(Optional.empty(), FIRST, FIRST.plusDays(14));
    answers.add(new DeviceDays(store, FACILITY).count(fortnight, NOW).toString());
    String patient = ResourceId.patient(RandomEvents.PATIENT).id();
    for (int days = 0; days <= 14; days += 2) {
      Instant asOf = Instant.parse("2026-03-26T00:00:00Z").plus(Duration.ofDays(days));
      answers.add(new Overdue(store, FACILITY).at(asOf, Optional.empty(), NOW).toString());
      answers.add(new CatheterDays(store, FACILITY).of(patient, asOf, NOW).toString());
    }
    return answers;
  }

  @Provide
  Arbitrary<List<BedsideEvent>> histories() {
    return RandomEvents.histories()
        .map(events -> events.stream().map(SentAsResourcesTest::tellable).toList());
  }

  /**
   * What resources can tell: FHIR R4's Specimen has no encounter, so that a stay which a specimen
   * alone names would have no event behind it. Version and recorder are lost as well.
   */
  private static BedsideEvent tellable(BedsideEvent event) {
    return Bare.of(event) instanceof SpecimenCollection specimen
        ? new SpecimenCollection(
            specimen.envelope(), Optional.empty(), specimen.catheter(), specimen.purpose())
        : Bare.of(event);
  }
}
