package indwell.usecase;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.CatheterEvent.Exchange;
import indwell.domain.event.CatheterEvent.Insertion;
import indwell.domain.event.CatheterEvent.SecurementChange;
import indwell.domain.event.CatheterEvent.SpecimenCollection;
import indwell.domain.event.EventKey;
import indwell.domain.event.Placing;
import indwell.domain.event.Ward;
import indwell.domain.refusal.IssueCode;
import indwell.domain.rule.AllRules;
import indwell.domain.rule.Bedside;
import indwell.domain.rule.FlagCode;
import indwell.domain.rule.FlagSpan;
import indwell.domain.timeline.Placement;
import indwell.domain.timeline.Timeline;
import indwell.domain.timeline.WardStay;
import indwell.fhir.map.FhirJson;
import indwell.fhir.term.EventIdentifier;
import indwell.port.ClinicalStore;
import indwell.port.ClinicalStore.Reading;
import indwell.port.ResourceKey;
import indwell.port.StoredResource;
import java.time.Instant;
import java.time.LocalDate;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.hl7.fhir.r4.model.Procedure;

/** What is on record of one insertion, or of the catheter that an exchange put in. */
public final class InsertionRecord {
  /** The flags that are about the insertion itself. */
  private static final Set<FlagCode> ABOUT_INSERTION =
      Set.of(FlagCode.BALLOON_FILL_MISMATCH, FlagCode.INSERTION_STEPS_MISSING);

  private final ClinicalStore store;
  private final Facility facility;
  private final HouseBook book;

  public InsertionRecord(ClinicalStore store, Facility facility) {
    this.store = store;
    this.facility = facility;
    this.book = new HouseBook(facility);
  }

  /**
   * The record.
   *
   * @param event the insertion or exchange
   * @param placing what was put in
   * @param ward where the patient was then
   * @param placement its time in place; empty where the timeline reads the event as a remark only
   * @param securement when it was last secured, and until when that is good
   * @param specimens taken through the catheter
   * @param flags about the insertion itself
   * @param history of the event
   */
  public record Sheet(
      BedsideEvent event,
      Placing placing,
      Optional<Ward> ward,
      Optional<Placement> placement,
      Securement securement,
      List<SpecimenCollection> specimens,
      List<FlagSpan> flags,
      EventHistory history) {}

  /**
   * How the catheter is secured.
   *
   * @param by the event that it was applied with
   * @param lastGoodDay the last date on which it is good; empty once the catheter is out
   */
  public record Securement(BedsideEvent by, Optional<LocalDate> lastGoodDay) {}

  /**
   * Finds the record.
   *
   * @param procedureId id of the FHIR Procedure
   */
  public Asked<Sheet> of(String procedureId, Instant now) {
    return store.read(state -> of(state, procedureId, now));
  }

  private Asked<Sheet> of(Reading state, String procedureId, Instant now) {
    Optional<StoredResource> stored = state.resource(new ResourceKey("Procedure", procedureId));
    if (stored.isEmpty()) {
      return notKnown();
    }
    Procedure procedure = (Procedure) FhirJson.parse(stored.get().json());
    EventKey key = EventIdentifier.read(procedure.getIdentifierFirstRep());
    EventHistory history = EventHistory.of(key, state.versionsOf(key));
    Timeline timeline =
        Timeline.asOf(PatientTimelines.eventsOf(state, stored.get().patientId()), now);
    Optional<BedsideEvent> event =
        timeline.events().stream().filter(one -> one.key().equals(key)).findFirst();
    if (event.isEmpty() && putsIn(history)) {
      return Asked.refuse(
          IssueCode.INSERTION_WITHDRAWN,
          "id",
          "The insertion was taken back as entered in error; expected one that stands.");
    }
    return event
        .flatMap(InsertionRecord::placing)
        .map(
            placing ->
                Asked.answer(sheet(book.read(state), timeline, event.get(), placing, history, now)))
        .orElseGet(InsertionRecord::notKnown);
  }

  private static Asked<Sheet> notKnown() {
    return Asked.refuse(
        IssueCode.NOT_FOUND, "id", "No such insertion is known; expected the id of its Procedure.");
  }

  private static boolean putsIn(EventHistory history) {
    return history.versions().stream()
        .flatMap(version -> version.event().stream())
        .anyMatch(event -> placing(event).isPresent());
  }

  private static Optional<Placing> placing(BedsideEvent event) {
    if (event instanceof Insertion insertion) {
      return Optional.of(insertion.placing());
    }
    return event instanceof Exchange exchange
        ? Optional.of(exchange.replacement())
        : Optional.empty();
  }

  private Sheet sheet(
      HouseRules house,
      Timeline timeline,
      BedsideEvent event,
      Placing placing,
      EventHistory history,
      Instant now) {
    Optional<Placement> placement =
        timeline.placements().stream()
            .filter(one -> one.placedBy().key().equals(event.key()))
            .findFirst();
    List<FlagSpan> spans = spans(house, timeline, placement, now);
    return new Sheet(
        event,
        placing,
        timeline.wardAt(event.at()).map(WardStay::ward),
        placement,
        securement(event, placement, spans, now),
        placement.map(one -> one.facts(SpecimenCollection.class)).orElse(List.of()),
        spans.stream().filter(span -> ABOUT_INSERTION.contains(span.code())).toList(),
        history);
  }

  private List<FlagSpan> spans(
      HouseRules house, Timeline timeline, Optional<Placement> placement, Instant now) {
    Optional<Ward> ward = timeline.wardAt(now).map(WardStay::ward);
    Bedside bedside = new Bedside(timeline, house.rules(ward, now), facility.calendar());
    return AllRules.spans(bedside).stream()
        .filter(span -> placement.equals(Optional.of(span.catheter())))
        .toList();
  }

  /** The clock of the securement says when it runs out, though it has not yet. */
  private Securement securement(
      BedsideEvent event, Optional<Placement> placement, List<FlagSpan> spans, Instant now) {
    BedsideEvent applied =
        placement.stream()
            .flatMap(one -> one.facts(SecurementChange.class).stream())
            .<BedsideEvent>map(change -> change)
            .reduce(event, (earlier, later) -> later);
    boolean inPlace = placement.filter(one -> one.inPlaceAt(now)).isPresent();
    Optional<LocalDate> lastGoodDay =
        spans.stream()
            .filter(span -> inPlace && span.code() == FlagCode.SECUREMENT_CHANGE_OVERDUE)
            .map(FlagSpan::since)
            .max(Comparator.naturalOrder())
            .map(overdue -> facility.calendar().dateOf(overdue).minusDays(1));
    return new Securement(applied, lastGoodDay);
  }
}
