package indwell.oracle;

import indwell.adapter.store.memory.MemoryStore;
import indwell.domain.event.BusinessId;
import indwell.domain.event.Ward;
import indwell.domain.rule.RuleSettings;
import indwell.domain.time.FacilityCalendar;
import indwell.domain.timeline.CatheterDay;
import indwell.fhir.map.ResourceId;
import indwell.port.ClinicalStore;
import indwell.usecase.Asked;
import indwell.usecase.CatheterDays;
import indwell.usecase.DeviceDays;
import indwell.usecase.Facility;
import indwell.usecase.Facility.WardSettings;
import indwell.usecase.UnmappedIntake;
import java.time.Instant;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;

/** What the service answers to a history, by its use cases. */
final class ServiceCounters {
  static final Instant NOW = Instant.parse("2030-01-01T00:00:00Z");

  private ServiceCounters() {}

  static Answers count(History history) {
    Answers answers = new Answers();
    try (ClinicalStore store = new MemoryStore()) {
      UnmappedIntake.take(store, history.arrivals().stream().map(FactBody::of).toList());
      answer(store, history, answers);
    }
    return answers;
  }

  /** Asks a store that holds the history. */
  static void answer(ClinicalStore store, History history, Answers answers) {
    Facility facility = facility(history);
    deviceDays(store, facility, history)
        .counts()
        .forEach(
            (ward, days) ->
                days.forEach(
                    (date, count) ->
                        answers.denominator(
                            ward.code(),
                            date.toString(),
                            count.patientDays(),
                            count.catheterDays())));
    CatheterDays catheterDays = new CatheterDays(store, facility);
    history.questions().forEach(asked -> add(answers, catheterDays, asked));
  }

  static DeviceDays.Table deviceDays(ClinicalStore store, Facility facility, History history) {
    DeviceDays.Question all =
        new DeviceDays.Question(Optional.empty(), history.firstDate(), history.lastDate());
    return answer(new DeviceDays(store, facility).count(all, NOW));
  }

  private static void add(Answers answers, CatheterDays catheterDays, History.Question asked) {
    String id = ResourceId.patient(new BusinessId("urn:patient", asked.patient())).id();
    CatheterDays.Days days = answer(catheterDays.of(id, asked.asOf(), NOW));
    for (CatheterDay day : days.days()) {
      answers.date(
          asked,
          day.date().toString(),
          day.number().map(number -> number.value()).orElse(null),
          day.catheterPresent(),
          day.eligible(),
          day.ward().map(Ward::code).orElse(null));
    }
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
