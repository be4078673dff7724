package indwell.oracle;

import indwell.adapter.store.memory.MemoryStore;
import indwell.domain.event.BusinessId;
import indwell.domain.event.Ward;
import indwell.domain.rule.RuleSettings;
import indwell.domain.time.FacilityCalendar;
import indwell.domain.timeline.CatheterDay;
import indwell.domain.timeline.DayCount;
import indwell.fhir.map.ResourceId;
import indwell.port.ClinicalStore;
import indwell.usecase.Asked;
import indwell.usecase.CatheterDays;
import indwell.usecase.DeviceDays;
import indwell.usecase.Facility;
import indwell.usecase.Facility.WardSettings;
import indwell.usecase.UnmappedIntake;
import java.time.Instant;
import java.time.LocalDate;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import java.util.SortedMap;

/** What the service answers to a history, by its use cases. */
final class ServiceCounters {
  static final Instant NOW = Instant.parse("2030-01-01T00:00:00Z");

  private ServiceCounters() {}

  static Answers count(History history) {
    Answers answers = new Answers();
    try (ClinicalStore store = new MemoryStore()) {
      UnmappedIntake.take(store, history.arrivals().stream().map(FactBody::of).toList());
      ask(store, history, answers);
    }
    return answers;
  }

  /** Asks a store that holds the history. */
  static void ask(ClinicalStore store, History history, Answers answers) {
    Facility facility = facility(history);
    add(answers, deviceDays(store, facility, history).counts());
    CatheterDays catheterDays = new CatheterDays(store, facility);
    history.questions().forEach(asked -> add(answers, catheterDays, asked));
  }

  static void add(Answers answers, SortedMap<Ward, SortedMap<LocalDate, DayCount>> counts) {
    counts.forEach(
        (ward, days) ->
            days.forEach(
                (date, count) ->
                    answers.denominator(
                        ward.code(), date.toString(), count.patientDays(), count.catheterDays())));
  }

  static DeviceDays.Table deviceDays(ClinicalStore store, Facility facility, History history) {
    DeviceDays.Question all =
        new DeviceDays.Question(Optional.empty(), history.firstDate(), history.lastDate());
    return answer(new DeviceDays(store, facility).count(all, NOW));
  }

  /** The id of the FHIR Patient. */
  static String idOf(String patient) {
    return ResourceId.patient(new BusinessId("urn:patient", patient)).id();
  }

  static void add(Answers answers, History.Question asked, CatheterDay day) {
    answers.date(
        asked,
        day.date().toString(),
        day.number().map(number -> number.value()).orElse(null),
        day.catheterPresent(),
        day.eligible(),
        day.ward().map(Ward::code).orElse(null));
  }

  private static void add(Answers answers, CatheterDays catheterDays, History.Question asked) {
    CatheterDays.Days days = answer(catheterDays.of(idOf(asked.patient()), asked.asOf(), NOW));
    days.days().forEach(day -> add(answers, asked, day));
    days.openSince()
        .ifPresent(
            since ->
                answers.longestStanding(
                    asked, since.toString(), days.catheterDay().orElseThrow().value()));
  }

  static Facility facility(History history) {
    Map<Ward, WardSettings> wards = new HashMap<>();
    history
        .wardCountTimes()
        .forEach(
            (ward, time) ->
                wards.put(
                    new Ward(ward), new WardSettings(Optional.of(time), RuleSettings.DEFAULTS)));
    return new Facility(
        new FacilityCalendar(history.zone()), history.countTime(), RuleSettings.DEFAULTS, wards);
  }

  private static <T> T answer(Asked<T> asked) {
    return ((Asked.Answered<T>) asked).value();
  }
}
