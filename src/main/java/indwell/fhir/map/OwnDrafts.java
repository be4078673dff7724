package indwell.fhir.map;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.CareItem;
import indwell.domain.event.CatheterEvent.CareCheck;
import indwell.domain.event.CatheterEvent.Exchange;
import indwell.domain.event.CatheterEvent.Insertion;
import indwell.domain.event.CatheterEvent.NeedReview;
import indwell.domain.event.CatheterEvent.Removal;
import indwell.domain.event.CatheterEvent.SecurementChange;
import indwell.domain.event.CatheterEvent.SpecimenCollection;
import indwell.domain.event.EventType;
import indwell.domain.event.PatientMeasurement.BodyWeight;
import indwell.domain.event.PatientMeasurement.UrineOutput;
import indwell.domain.event.Placing;
import indwell.domain.event.Route;
import indwell.domain.event.Ward;
import indwell.domain.timeline.Placement;
import indwell.domain.timeline.Timeline;
import indwell.domain.timeline.WardStay;
import indwell.fhir.term.EventIdentifier;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;

/** Drafts what a single event makes by itself. */
final class OwnDrafts {
  private final Timeline timeline;
  private final String patientId;
  private final MappingContext context;

  OwnDrafts(Timeline timeline, String patientId, MappingContext context) {
    this.timeline = timeline;
    this.patientId = patientId;
    this.context = context;
  }

  /**
   * What an event makes.
   *
   * @param main what stands for the event where something refers to it
   * @param around all that the drafts take from the timeline beside the event
   */
  record Part(BedsideEvent event, ResourceId main, Object around, List<Draft> drafts) {}

  /**
   * The drafts of an event.
   *
   * @param known what the same event made before, given back when it still does
   */
  Part of(BedsideEvent event, Optional<Part> known) {
    Object around = around(event);
    return known
        .filter(part -> part.event().equals(event) && part.around().equals(around))
        .orElseGet(() -> made(event, around));
  }

  private Object around(BedsideEvent event) {
    EventType type = event.type();
    return switch (type) {
      case CATHETER_INSERTED, CATHETER_EXCHANGED -> wardAt(event);
      case URINE_MEASURED -> timeline.weightAt(event.at());
      case SPECIMEN_COLLECTED -> routeOfCatheter((SpecimenCollection) event);
      case PATIENT_ADMITTED,
          PATIENT_TRANSFERRED,
          PATIENT_DISCHARGED,
          CATHETER_REMOVED,
          NEED_REVIEWED,
          SECUREMENT_CHANGED,
          CARE_CHECKED,
          WEIGHT_MEASURED ->
          Optional.empty();
    };
  }

  private Part made(BedsideEvent event, Object around) {
    DraftSink sink = new DraftSink(patientId, context);
    add(Bare.of(event), sink);
    return new Part(event, ResourceId.mainOf(event), around, List.copyOf(sink.drafts().values()));
  }

  private void add(BedsideEvent event, DraftSink sink) {
    EventType type = event.type();
    switch (type) {
      case PATIENT_ADMITTED, PATIENT_TRANSFERRED, PATIENT_DISCHARGED -> {
        // A movement has no resource of its own: it stands in the Encounter.
      }
      case CATHETER_INSERTED -> add((Insertion) event, sink);
      case CATHETER_EXCHANGED -> add((Exchange) event, sink);
      case CATHETER_REMOVED -> sink.addMain(event, (Removal) event, RemovalMapper::toFhir);
      case NEED_REVIEWED -> sink.addMain(event, (NeedReview) event, NeedReviewMapper::toFhir);
      case SECUREMENT_CHANGED ->
          sink.addMain(event, (SecurementChange) event, SecurementMapper::toFhir);
      case CARE_CHECKED -> add((CareCheck) event, sink);
      case URINE_MEASURED -> add((UrineOutput) event, sink);
      case SPECIMEN_COLLECTED -> add((SpecimenCollection) event, sink);
      case WEIGHT_MEASURED -> sink.addMain(event, (BodyWeight) event, BodyWeightMapper::toFhir);
    }
  }

  private void add(Insertion event, DraftSink sink) {
    var content = InsertionMapper.Content.of(event, wardAt(event));
    sink.addMain(event, content, InsertionMapper::toFhir);
    addVolumes(event, event.placing(), sink);
  }

  private void add(Exchange event, DraftSink sink) {
    var content = ExchangeMapper.Content.of(event, wardAt(event));
    sink.addMain(event, content, ExchangeMapper::toFhir);
    addVolumes(event, event.replacement(), sink);
  }

  private Optional<Ward> wardAt(BedsideEvent event) {
    return timeline.wardAt(event.at()).map(WardStay::ward);
  }

  private static void addVolumes(BedsideEvent event, Placing placing, DraftSink sink) {
    Measured balloon = Measured.first(event, Optional.of(placing.catheter()));
    placing
        .findings()
        .balloonFilledMl()
        .map(ml -> new InsertionVolume(balloon, ml))
        .ifPresent(volume -> sink.addObservation(balloon, volume, BalloonVolumeMapper::toFhir));
    Measured drainage =
        Measured.further(event, EventIdentifier.INITIAL_DRAINAGE, Optional.of(placing.catheter()));
    placing
        .findings()
        .urineReturnedMl()
        .map(ml -> new InsertionVolume(drainage, ml))
        .ifPresent(volume -> sink.addObservation(drainage, volume, InitialDrainageMapper::toFhir));
  }

  private static void add(CareCheck event, DraftSink sink) {
    sink.addMain(event, CareCheckMapper.withoutItems(event), CareCheckMapper::toFhir);
    for (Map.Entry<CareItem, Boolean> item : new TreeMap<>(event.items()).entrySet()) {
      var content = CareItemMapper.Content.of(event, item.getKey(), item.getValue());
      sink.addObservation(content.measured(), content, CareItemMapper::toFhir);
    }
  }

  private void add(UrineOutput event, DraftSink sink) {
    sink.addMain(event, event, UrineOutputMapper::toFhir);
    timeline
        .weightAt(event.at())
        .map(weight -> UrineRateMapper.Content.of(event, weight))
        .ifPresent(
            content -> sink.addObservation(content.measured(), content, UrineRateMapper::toFhir));
  }

  private void add(SpecimenCollection event, DraftSink sink) {
    var content = SpecimenMapper.Content.of(event, routeOfCatheter(event));
    sink.addMain(event, content, SpecimenMapper::toFhir);
  }

  /** Of a catheter that was never in place the route is unknown; most are urethral. */
  private Route routeOfCatheter(SpecimenCollection event) {
    return timeline.placements().stream()
        .filter(placement -> placement.catheter().equals(event.catheter()))
        .filter(placement -> !placement.start().isAfter(event.at()))
        .reduce((earlier, later) -> later)
        .or(() -> timeline.lastPlacementOf(event.catheter()))
        .map(Placement::placing)
        .map(Placing::route)
        .orElse(Route.URETHRAL);
  }
}
