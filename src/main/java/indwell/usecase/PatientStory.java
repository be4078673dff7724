package indwell.usecase;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.BusinessId;
import indwell.domain.event.EventKey;
import indwell.domain.event.PatientMeasurement.BodyWeight;
import indwell.domain.event.PatientMeasurement.UrineOutput;
import indwell.domain.refusal.IssueCode;
import indwell.domain.rule.DayTraces;
import indwell.domain.rule.FlagHistory;
import indwell.domain.rule.Trace;
import indwell.domain.rule.UrineLimit;
import indwell.domain.rule.UrineRate;
import indwell.domain.timeline.CatheterDay;
import indwell.domain.timeline.EligibilityCount;
import indwell.domain.timeline.Placement;
import indwell.domain.timeline.Stay;
import indwell.domain.timeline.Timeline;
import indwell.domain.timeline.WardStay;
import indwell.fhir.map.FhirJson;
import indwell.port.ClinicalStore;
import indwell.port.ClinicalStore.Reading;
import indwell.port.ResourceKey;
import indwell.port.StoredResource;
import java.math.BigDecimal;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import org.hl7.fhir.r4.model.Identifier;
import org.hl7.fhir.r4.model.Patient;

/** One stay of one patient: everything on record, what follows from it, and what was corrected. */
public final class PatientStory {
  private static final int RATE_DECIMALS = 4;

  private final ClinicalStore store;
  private final Facility facility;
  private final HouseBook book;

  public PatientStory(ClinicalStore store, Facility facility) {
    this.store = store;
    this.facility = facility;
    this.book = new HouseBook(facility);
  }

  /**
   * The story.
   *
   * @param stays of the patient, ascending by start
   * @param stay the chosen one; empty when the patient never had any
   * @param from start of what is shown
   * @param to end of what is shown: that of the stay, or now
   * @param events that happened in that time, and what put in the catheters of that time
   * @param days the eligibility count of the stay
   * @param traces of each day why its number, why eligible or not, and why its ward
   * @param flags that were in force in that time
   * @param corrections of all events that were corrected, taken back or moved to another patient
   */
  public record Story(
      BusinessId patient,
      Timeline timeline,
      List<Stay> stays,
      Optional<Stay> stay,
      Instant from,
      Instant to,
      List<BedsideEvent> events,
      List<Placement> placements,
      List<CatheterDay> days,
      List<List<Trace>> traces,
      List<FlagHistory> flags,
      List<Output> outputs,
      List<EventHistory> corrections) {}

  /**
   * A measured interval.
   *
   * @param weight the latest at or before its end; empty when none is known
   * @param rate in mL/kg/h, rounded half up to 4 decimals
   * @param limit below which a rate is low by the reading in force at its end
   */
  public record Output(
      UrineOutput interval,
      Optional<BodyWeight> weight,
      Optional<BigDecimal> rate,
      UrineLimit limit) {
    /** Whether the rate is known and low. */
    public boolean isLow() {
      return rate.filter(limit::makesLow).isPresent();
    }
  }

  /**
   * Tells the story.
   *
   * @param patientId id of the FHIR Patient
   * @param stayNumber which stay, from 1; the latest when empty
   */
  public Asked<Story> of(String patientId, Optional<Integer> stayNumber, Instant now) {
    return store.read(
        state -> {
          Optional<StoredResource> patient = state.resource(new ResourceKey("Patient", patientId));
          if (patient.isEmpty()) {
            return Asked.refuse(
                IssueCode.NOT_FOUND,
                "id",
                "This patient is not known; expected the id of a FHIR Patient.");
          }
          Timeline timeline = Timeline.asOf(PatientTimelines.eventsOf(state, patientId), now);
          int stays = timeline.stays().size();
          if (stayNumber.filter(number -> number < 1 || number > stays).isPresent()) {
            return Asked.refuse(
                IssueCode.BAD_PARAMETER,
                "stay",
                "Stay "
                    + stayNumber.get()
                    + " is none of the patient's; expected 1 to "
                    + stays
                    + ".");
          }
          int chosen = stayNumber.orElse(stays) - 1;
          Optional<Stay> stay =
              chosen < 0 ? Optional.empty() : Optional.of(timeline.stays().get(chosen));
          Identifier named =
              ((Patient) FhirJson.parse(patient.get().json())).getIdentifierFirstRep();
          BusinessId id = new BusinessId(named.getSystem(), named.getValue());
          return Asked.answer(story(state, patientId, id, timeline, stay, now));
        });
  }

  private Story story(
      Reading state,
      String patientId,
      BusinessId patient,
      Timeline timeline,
      Optional<Stay> stay,
      Instant now) {
    HouseRules house = book.read(state);
    Instant first = timeline.events().stream().map(BedsideEvent::at).findFirst().orElse(now);
    Instant from = stay.map(Stay::start).orElse(first);
    Instant to = stay.flatMap(Stay::end).orElse(now);
    List<Placement> placements =
        timeline.placements().stream().filter(one -> one.span().touches(from, to)).toList();
    List<CatheterDay> days =
        stay.map(one -> new EligibilityCount(timeline, facility.calendar()).days(one, now))
            .orElse(List.of());
    return new Story(
        patient,
        timeline,
        timeline.stays(),
        stay,
        from,
        to,
        events(timeline, placements, from, to),
        placements,
        days,
        stay.map(one -> new DayTraces(timeline, one, facility.calendar()).of(days))
            .orElse(List.of()),
        flags(house, timeline, from, to, now),
        timeline.urine().stream()
            .filter(one -> one.at().isAfter(from) && !one.at().isAfter(to))
            .map(one -> output(one, timeline, house))
            .toList(),
        corrections(state, patientId));
  }

  private static List<BedsideEvent> events(
      Timeline timeline, List<Placement> placements, Instant from, Instant to) {
    Set<EventKey> putIn = new TreeSet<>();
    placements.forEach(one -> putIn.add(one.placedBy().key()));
    return timeline.events().stream()
        .filter(
            event ->
                putIn.contains(event.key())
                    || (!event.at().isBefore(from) && !event.at().isAfter(to)))
        .toList();
  }

  private static List<FlagHistory> flags(
      HouseRules house, Timeline timeline, Instant from, Instant to, Instant now) {
    return FlagHistory.upTo(SettingsTimes.spans(house, timeline), now).stream()
        .filter(
            flag ->
                flag.times().stream()
                    .anyMatch(
                        time ->
                            !time.start().isAfter(to)
                                && time.end().filter(end -> end.isBefore(from)).isEmpty()))
        .toList();
  }

  private static Output output(UrineOutput interval, Timeline timeline, HouseRules house) {
    Instant end = interval.at();
    Optional<BodyWeight> weight = timeline.weightAt(end);
    return new Output(
        interval,
        weight,
        weight.map(one -> UrineRate.of(interval, one.kg(), RATE_DECIMALS)),
        house.rules(timeline.wardAt(end).map(WardStay::ward), end).urineReading().limit());
  }

  /** What was said more than once of an event. */
  private static List<EventHistory> corrections(Reading state, String patientId) {
    return state.correctedEvents(patientId).stream()
        .map(key -> EventHistory.of(key, state.versionsOf(key)))
        .filter(EventHistory::corrected)
        .toList();
  }
}
