package indwell.usecase;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.adapter.store.memory.MemoryStore;
import indwell.contract.PlainFacility;
import indwell.contract.Satisfied;
import indwell.contract.SharedValidator;
import indwell.fhir.map.FhirJson;
import indwell.fhir.map.FlagMapper;
import indwell.fhir.map.MappingContext;
import indwell.intake.EventBodies;
import indwell.port.ClinicalStore;
import indwell.port.ProfileValidator;
import indwell.port.ResourceQuery;
import indwell.port.SearchCondition.Code;
import indwell.port.SearchCondition.HasCode;
import indwell.port.SearchOrder;
import indwell.port.StoredResource;
import indwell.usecase.SearchResources.Found;
import indwell.usecase.SearchResources.Total;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.hl7.fhir.r4.model.Flag;
import org.hl7.fhir.r4.model.Flag.FlagStatus;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Flags as resources agree with the flags of {@code $overdue}, at every moment (contract, 3). */
@DisplayNameGeneration(ReplaceUnderscores.class)
class PatientFlagsTest {
  private static final ZoneId BERLIN = ZoneId.of("Europe/Berlin");
  private static final Facility FACILITY = PlainFacility.in(BERLIN);
  private static final MappingContext CONTEXT = new MappingContext(BERLIN);
  private static final Instant RECEIVED = Instant.parse("2026-04-20T12:00:00Z");

  private static ClinicalStore recorded(long... seeds) {
    ClinicalStore store = new MemoryStore();
    RecordEvents recordEvents = new RecordEvents(store, new Satisfied(), CONTEXT);
    for (long seed : seeds) {
      for (String body : new RandomBodies(seed).bodies()) {
        String own = body.replace("\"source\":\"random\"", "\"source\":\"r" + seed + "\"");
        recordEvents.record(
            EventBodies.line(own.getBytes(StandardCharsets.UTF_8), RECEIVED), RECEIVED);
      }
    }
    return store;
  }

  private static Found find(
      ClinicalStore store,
      Optional<String> status,
      int limit,
      Optional<String> after,
      Instant now) {
    return new SearchResources(store, new PatientFlags(store, FACILITY, CONTEXT))
        .find(
            new ResourceQuery(
                "Flag",
                Set.of(),
                Set.of(),
                Set.of(),
                status.stream()
                    .map(
                        code ->
                            new HasCode(
                                "status",
                                List.of(new Code(Optional.empty(), Optional.of(code))),
                                false))
                    .map(indwell.port.SearchCondition.class::cast)
                    .toList(),
                SearchOrder.BY_ID,
                after,
                limit),
            Total.IF_CHEAP,
            now);
  }

  private static List<String> ids(Found found) {
    return found.resources().stream().map(one -> one.key().id()).toList();
  }

  @ParameterizedTest
  @ValueSource(longs = {61, 62, 63, 64, 65, 66, 67, 68})
  void the_active_ones_are_those_that_are_overdue(long seed) {
    try (ClinicalStore store = recorded(seed)) {
      int seen = 0;
      for (int hours = 0; hours < 14 * 24; hours += 5) {
        Instant now = RandomBodies.START.plus(Duration.ofHours(hours));
        List<String> overdue =
            new Overdue(store, FACILITY)
                .at(now, Optional.empty(), now)
                .fold(
                    flags ->
                        flags.raised().stream()
                            .map(raised -> FlagMapper.id(raised.flag()).id())
                            .sorted()
                            .toList(),
                    issue -> List.of("refused"));
        assertThat(ids(find(store, Optional.of("active"), 1_000, Optional.empty(), now)))
            .as("%s", now)
            .isEqualTo(overdue);
        seen += overdue.size();
      }
      assertThat(seen).isPositive();
    }
  }

  @ParameterizedTest
  @ValueSource(longs = {71, 72, 73, 74})
  void past_ones_have_ended_and_none_lies_ahead(long seed) {
    try (ClinicalStore store = recorded(seed, seed + 100)) {
      PatientFlags flags = new PatientFlags(store, FACILITY, CONTEXT);
      for (int days = 2; days <= 16; days += 2) {
        Instant now = RandomBodies.START.plus(Duration.ofDays(days));
        for (StoredResource stored :
            find(store, Optional.empty(), 1_000, Optional.empty(), now).resources()) {
          Flag flag = (Flag) FhirJson.parse(stored.json());
          assertThat(flag.getPeriod().getStart().toInstant()).isBeforeOrEqualTo(now);
          assertThat(flag.getPeriod().hasEnd()).isEqualTo(flag.getStatus() == FlagStatus.INACTIVE);
          if (flag.getPeriod().hasEnd()) {
            assertThat(flag.getPeriod().getEnd().toInstant())
                .isBeforeOrEqualTo(now)
                .isAfterOrEqualTo(flag.getPeriod().getStart().toInstant());
          }
          assertThat(flags.read(stored.key().id(), now).map(FlagResource::asStored))
              .hasValue(stored);
        }
      }
    }
  }

  @Test
  void pages_that_walk_hold_every_flag_once_and_in_order() {
    try (ClinicalStore store = recorded(81, 82, 83)) {
      Found all = find(store, Optional.empty(), 1_000, Optional.empty(), RECEIVED);
      List<String> seen = new ArrayList<>();
      Optional<String> after = Optional.empty();
      Found page;
      do {
        page = find(store, Optional.empty(), 3, after, RECEIVED);
        seen.addAll(ids(page));
        after = Optional.of(seen.get(seen.size() - 1));
      } while (page.more());
      assertThat(seen).isEqualTo(ids(all)).isSorted();
      assertThat(all.total()).hasValue(seen.size());
    }
  }

  @Test
  void every_flag_meets_its_profile() {
    ProfileValidator validator = SharedValidator.WARM;
    try (ClinicalStore store = recorded(91, 92)) {
      List<StoredResource> all =
          find(store, Optional.empty(), 1_000, Optional.empty(), RECEIVED).resources();
      assertThat(all).isNotEmpty();
      for (StoredResource flag : all) {
        assertThat(validator.validate(flag.json().getBytes(StandardCharsets.UTF_8)))
            .as(flag.json())
            .filteredOn(ProfileValidator.Finding::isError)
            .isEmpty();
      }
    }
  }

  /** What was in force when it was taken, or what time has brought since, whichever is later. */
  @Test
  void the_last_update_is_the_later_of_the_writing_and_of_what_time_brought() {
    Instant inserted = Instant.parse("2026-03-02T08:00:00Z");
    ClinicalStore store = new MemoryStore();
    RecordEvents recordEvents = new RecordEvents(store, new Satisfied(), CONTEXT);
    String insertion =
        """
        {"source":"ward","eventId":"i","type":"catheter-inserted","occurredAt":"%s",
         "patient":{"system":"urn:p","value":"P"},"encounter":{"system":"urn:s","value":"S"},
         "details":{"catheterId":"c","route":"suprapubic","drainage":"none","sizeCh":14,
         "indication":"acute-retention"}}"""
            .formatted(inserted);
    Instant received = inserted.plus(Duration.ofHours(1));
    recordEvents.record(
        EventBodies.line(insertion.getBytes(StandardCharsets.UTF_8), received), received);
    // More than twelve hours after the last check, or the insertion (contract, care-check-overdue).
    Instant due = inserted.plus(Duration.ofHours(12));
    assertThat(careChecks(store, due)).isEmpty();
    Instant later = due.plus(Duration.ofHours(5));
    assertThat(careChecks(store, later)).extracting(FlagResource::lastUpdated).containsExactly(due);

    String check =
        """
        {"source":"ward","eventId":"c","type":"care-checked","occurredAt":"%s",
         "patient":{"system":"urn:p","value":"P"},
         "details":{"catheterId":"c","items":{"bag-off-floor":true}}}"""
            .formatted(due.plus(Duration.ofHours(2)));
    recordEvents.record(EventBodies.line(check.getBytes(StandardCharsets.UTF_8), later), later);
    assertThat(careChecks(store, later))
        .extracting(FlagResource::lastUpdated)
        .containsExactly(later);
    assertThat(careChecks(store, later).get(0).flag().getStatus()).isEqualTo(FlagStatus.INACTIVE);
  }

  private static List<FlagResource> careChecks(ClinicalStore store, Instant now) {
    PatientFlags flags = new PatientFlags(store, FACILITY, CONTEXT);
    return store.read(state -> flags.of(state, EveryPatient.ids(state), now)).stream()
        .filter(
            one -> one.flag().getCode().getCodingFirstRep().getCode().equals("care-check-overdue"))
        .toList();
  }
}
