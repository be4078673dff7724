package indwell.usecase;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.contract.AnyStore;
import indwell.contract.PlainFacility;
import indwell.contract.Satisfied;
import indwell.domain.rule.RuleSettings;
import indwell.domain.time.FacilityCalendar;
import indwell.fhir.map.MappingContext;
import indwell.intake.EventBodies;
import indwell.port.ClinicalStore;
import indwell.port.PatientIndex;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeSet;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;

/**
 * Counted from what is kept, device days and remarks are those of all events read anew: the oracle
 * is {@link DeviceDays#explain}, which reads everybody's events.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class DayLedgerTest {
  private static final Instant NOW = RandomBodies.START.plus(Duration.ofDays(60));
  private static final LocalDate FIRST = LocalDate.parse("2026-03-20");
  private static final LocalDate LAST = LocalDate.parse("2026-04-20");

  @TempDir Path folder;

  private static void record(ClinicalStore store, long seed) {
    RecordEvents events =
        new RecordEvents(store, new Satisfied(), new MappingContext(ZoneOffset.UTC));
    for (String body : new RandomBodies(seed).bodies()) {
      String own =
          body.replace("\"source\":\"random\"", "\"source\":\"r" + seed + "\"")
              .replaceAll("\"value\":\"P(\\d)\"", "\"value\":\"P$1-" + seed + "\"");
      var unused = events.record(EventBodies.line(own.getBytes(StandardCharsets.UTF_8), NOW), NOW);
    }
  }

  private static void assertSame(ClinicalStore store, String zone, String countTime) {
    Facility facility =
        new Facility(
            new FacilityCalendar(ZoneId.of(zone)),
            LocalTime.parse(countTime),
            RuleSettings.DEFAULTS,
            Map.of());
    DeviceDays days = new DeviceDays(store, facility);
    for (LocalDate first = FIRST; first.isBefore(LAST); first = first.plusDays(9)) {
      var question = new DeviceDays.Question(Optional.empty(), first, first.plusDays(8));
      DeviceDays.Table kept = answered(days.count(question, NOW));
      DeviceDays.Table read = answered(days.explain(question, NOW));
      assertThat(kept.counts()).isEqualTo(read.counts());
      assertThat(kept.remarks()).isEqualTo(read.remarks());
    }
  }

  private static DeviceDays.Table answered(Asked<DeviceDays.Table> asked) {
    return asked.fold(
        table -> table,
        issue -> {
          throw new AssertionError(issue.toString());
        });
  }

  /** The clocks go forward on 29 March in Berlin; half an hour back on 5 April on Lord Howe. */
  @ParameterizedTest
  @CsvSource({
    "Etc/UTC, 00:00",
    "Etc/UTC, 12:00",
    "Europe/Berlin, 02:30",
    "Europe/Berlin, 06:00",
    "Australia/Lord_Howe, 01:45",
    "Pacific/Kiritimati, 18:00",
    "Etc/GMT+12, 06:00"
  })
  void in_any_zone_at_any_count_time(String zone, String countTime) {
    try (ClinicalStore store = AnyStore.MEMORY.open(folder)) {
      for (long seed = 1; seed <= 12; seed++) {
        record(store, seed);
      }
      DeviceDays.Table all = answered(all(store));
      assertThat(all.remarks()).isNotEmpty();
      assertThat(all.counts().values().stream().flatMap(days -> days.values().stream()))
          .anyMatch(
              count -> count.catheterDays() > 0 && count.patientDays() > count.catheterDays());
      assertSame(store, zone, countTime);
    }
  }

  private static Asked<DeviceDays.Table> all(ClinicalStore store) {
    Facility utc = PlainFacility.in(ZoneOffset.UTC);
    return new DeviceDays(store, utc)
        .count(new DeviceDays.Question(Optional.empty(), FIRST, LAST), NOW);
  }

  @ParameterizedTest
  @EnumSource
  void in_every_store(AnyStore kind) {
    try (ClinicalStore store = kind.open(folder)) {
      for (long seed = 50; seed < 55; seed++) {
        record(store, seed);
      }
      assertSame(store, "Europe/Berlin", "00:00");
    }
  }

  @ParameterizedTest
  @EnumSource
  void a_store_of_an_older_release_is_worked_out_once(AnyStore kind) {
    try (ClinicalStore store = kind.open(folder)) {
      record(store, 60);
      DeviceDays.Table before = answered(all(store));
      forget(store);
      assertThat(answered(all(store)).counts()).isNotEqualTo(before.counts());

      new WhereaboutsIndex(store).bringUpToDate();
      assertThat(answered(all(store)).counts()).isEqualTo(before.counts());
      assertThat(answered(all(store)).remarks()).isEqualTo(before.remarks());

      // What is forgotten now stays so: the second start reads nothing.
      forget(store);
      new WhereaboutsIndex(store).bringUpToDate();
      assertThat(answered(all(store)).counts()).isNotEqualTo(before.counts());
    }
  }

  /** Keeps who was in which ward, as a release that knew of nothing else would have left it. */
  private static void forget(ClinicalStore store) {
    store.write(
        tx -> {
          TreeSet<String> patients = new TreeSet<>(EveryPatient.ids(tx));
          tx.lockPatients(patients);
          PatientTimelines.forEach(
              tx,
              patients,
              (id, events) -> {
                PatientIndex index = PatientIndexer.of(indwell.domain.timeline.Timeline.of(events));
                tx.index(
                    id,
                    Optional.empty(),
                    new PatientIndex(
                        index.wards().stream()
                            .map(
                                one ->
                                    new PatientIndex.WardSpan(
                                        one.ward(),
                                        one.inpatient(),
                                        one.start(),
                                        one.endExclusive(),
                                        false))
                            .toList(),
                        index.catheters(),
                        List.of()));
              });
          return true;
        });
  }
}
