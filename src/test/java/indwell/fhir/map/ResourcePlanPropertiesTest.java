package indwell.fhir.map;

import static java.util.stream.Collectors.toMap;
import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.EventKey;
import indwell.domain.timeline.Timeline;
import indwell.fhir.RandomEvents;
import indwell.fhir.term.Systems;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.Set;
import java.util.TreeMap;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;
import org.hl7.fhir.r4.model.Reference;
import org.hl7.fhir.r4.model.Resource;

/** What holds of every plan, whatever happened to the patient. */
class ResourcePlanPropertiesTest {
  private static final MappingContext BERLIN = new MappingContext(ZoneId.of("Europe/Berlin"));

  @Property(tries = 100)
  void the_order_of_arrival_changes_nothing(
      @ForAll("histories") List<BedsideEvent> events, @ForAll Random random) {
    List<BedsideEvent> shuffled = new ArrayList<>(events);
    Collections.shuffle(shuffled, random);

    ResourcePlan told = plan(events);
    ResourcePlan other = plan(shuffled);

    assertThat(ids(other.drafts())).isEqualTo(ids(told.drafts()));
    assertThat(fingerprints(other)).isEqualTo(fingerprints(told));
    for (BedsideEvent event : events) {
      assertThat(ids(other.drafts(event.key()))).isEqualTo(ids(told.drafts(event.key())));
    }
  }

  /** Events come and go in any order, some as other versions; each plan is made from the last. */
  @Property(tries = 100)
  void a_plan_made_from_another_is_the_one_made_anew(
      @ForAll("histories") List<BedsideEvent> events,
      @ForAll("histories") List<BedsideEvent> others,
      @ForAll Random random) {
    Map<EventKey, BedsideEvent> standing = new TreeMap<>();
    List<BedsideEvent> arriving = new ArrayList<>(events);
    arriving.addAll(others);
    Collections.shuffle(arriving, random);
    ResourcePlan plan = plan(List.of());
    for (BedsideEvent event : arriving) {
      if (random.nextInt(4) == 0) {
        standing.remove(event.key());
      } else {
        standing.put(event.key(), event);
      }
      plan = plan.next(Timeline.of(standing.values()));
      assertSame(plan, plan(List.copyOf(standing.values())), standing.keySet());
    }
  }

  private static void assertSame(ResourcePlan plan, ResourcePlan anew, Set<EventKey> events) {
    assertThat(ids(plan.drafts())).isEqualTo(ids(anew.drafts()));
    assertThat(fingerprints(plan)).isEqualTo(fingerprints(anew));
    for (EventKey event : events) {
      assertThat(ids(plan.drafts(event))).isEqualTo(ids(anew.drafts(event)));
    }
  }

  /** Source of the pattern: FHIR R4, datatypes, id. */
  @Property(tries = 100)
  void ids_are_valid_and_unique_and_stand_in_the_resources(
      @ForAll("histories") List<BedsideEvent> events) {
    List<Draft> drafts = plan(events).drafts();

    assertThat(ids(drafts)).doesNotHaveDuplicates();
    for (Draft draft : drafts) {
      assertThat(draft.id().id()).matches("[A-Za-z0-9\\-.]{1,64}");
      assertThat(ResourceId.of(draft.build())).isEqualTo(draft.id());
      assertThat(draft.build().getMeta().getProfile()).hasSize(1);
      assertThat(Identifiers.tokensOf(draft.build())).hasSize(1);
    }
  }

  @Property(tries = 100)
  void every_reference_leads_to_a_resource_of_the_plan(
      @ForAll("histories") List<BedsideEvent> events) {
    List<Draft> drafts = plan(events).drafts();
    List<String> known = drafts.stream().map(draft -> draft.id().text()).toList();

    for (Draft draft : drafts) {
      FhirJson.context()
          .newTerser()
          .getAllPopulatedChildElementsOfType(draft.build(), Reference.class)
          .forEach(reference -> assertThat(known).contains(reference.getReference()));
    }
  }

  @Property(tries = 200)
  void fingerprints_differ_where_and_only_where_the_content_does(
      @ForAll("histories") List<BedsideEvent> before, @ForAll long seed, @ForAll boolean again) {
    List<BedsideEvent> after = changed(before, seed, again);
    ResourcePlan one = plan(before);
    ResourcePlan other = plan(after);

    PlanDiff diff = PlanDiff.between(List.of(one), List.of(other));

    Map<ResourceId, String> jsonBefore = json(one);
    Map<ResourceId, String> jsonAfter = json(other);
    List<ResourceId> written =
        other.drafts().stream()
            .map(Draft::id)
            .filter(id -> !jsonAfter.get(id).equals(jsonBefore.get(id)))
            .toList();
    assertThat(ids(diff.written())).isEqualTo(written);
    List<ResourceId> gone = new ArrayList<>(ids(one.drafts()));
    gone.removeAll(jsonAfter.keySet());
    assertThat(ids(diff.gone())).isEqualTo(gone);
  }

  /** One event gets another content, or is taken back. */
  private static List<BedsideEvent> changed(List<BedsideEvent> events, long seed, boolean again) {
    List<BedsideEvent> changed = new ArrayList<>(events);
    if (!changed.isEmpty()) {
      EventKey key = changed.remove(Math.floorMod(seed, changed.size())).key();
      if (again) {
        changed.add(RandomEvents.event(seed, key));
      }
    }
    return changed;
  }

  @Property(tries = 50)
  void every_event_has_a_share_in_its_main_resource_and_the_patient(
      @ForAll("histories") List<BedsideEvent> events) {
    ResourcePlan plan = plan(events);

    for (BedsideEvent event : events) {
      List<ResourceId> answered = ids(plan.drafts(event.key()));
      assertThat(answered).startsWith(ResourceId.mainOf(event));
      assertThat(answered).contains(ResourceId.patient(RandomEvents.PATIENT));
    }
  }

  @Property(tries = 50)
  void all_but_wards_belong_to_the_patient(@ForAll("histories") List<BedsideEvent> events) {
    String patient = ResourceId.patient(RandomEvents.PATIENT).id();

    for (Draft draft : plan(events).drafts()) {
      boolean ward = draft.id().type().equals("Location");
      assertThat(draft.patientId()).isEqualTo(ward ? "" : patient);
      assertThat(draft.build().getMeta().getProfile().get(0).getValue())
          .startsWith(Systems.BASE + "/StructureDefinition/catheter-");
    }
  }

  private static ResourcePlan plan(List<BedsideEvent> events) {
    return ResourcePlan.of(Timeline.of(events), BERLIN);
  }

  private static List<ResourceId> ids(List<Draft> drafts) {
    return drafts.stream().map(Draft::id).toList();
  }

  private static Map<ResourceId, Object> fingerprints(ResourcePlan plan) {
    return plan.drafts().stream().collect(toMap(Draft::id, Draft::fingerprint));
  }

  private static Map<ResourceId, String> json(ResourcePlan plan) {
    Map<ResourceId, String> texts = new TreeMap<>();
    for (Draft draft : plan.drafts()) {
      Resource resource = draft.build();
      texts.put(draft.id(), FhirJson.encode(resource));
    }
    return texts;
  }

  @Provide
  Arbitrary<List<BedsideEvent>> histories() {
    return RandomEvents.histories();
  }
}
