package indwell.fhir.map;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.BusinessId;
import indwell.domain.event.CatheterEvent;
import indwell.domain.event.CatheterEvent.Exchange;
import indwell.domain.event.CatheterId;
import indwell.domain.event.EventKey;
import indwell.domain.event.Movement.Arrival;
import indwell.domain.event.PatientMeasurement.UrineOutput;
import indwell.domain.event.Ward;
import indwell.domain.timeline.Placement;
import indwell.domain.timeline.Timeline;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.Map;
import java.util.Set;

/** Drafts what several events have a share in: patient, wards, stays, catheters and their use. */
final class SharedDrafts {
  private final Timeline timeline;
  private final BusinessId patient;
  private final DraftSink sink;
  private final Set<EventKey> events = new LinkedHashSet<>();
  private final Map<Ward, Set<EventKey>> wards = new LinkedHashMap<>();
  private final Map<BusinessId, Set<EventKey>> encounters = new LinkedHashMap<>();
  private final Map<CatheterId, Set<EventKey>> catheters = new LinkedHashMap<>();

  SharedDrafts(Timeline timeline, BusinessId patient, DraftSink sink) {
    this.timeline = timeline;
    this.patient = patient;
    this.sink = sink;
  }

  void add() {
    timeline.events().forEach(this::note);
    sink.add(ResourceId.patient(patient), events, patient, PatientMapper::toFhir);
    wards.forEach(
        (ward, by) -> sink.addShared(ResourceId.ward(ward), by, ward, WardMapper::toFhir));
    StayContents stays = new StayContents(timeline, patient);
    encounters.forEach(
        (encounter, by) ->
            sink.add(
                ResourceId.encounter(patient, encounter),
                by,
                stays.of(encounter),
                StayMapper::toFhir));
    catheters.forEach(this::addDevice);
    timeline.placements().forEach(this::addUse);
  }

  private void note(BedsideEvent event) {
    events.add(event.key());
    if (event instanceof Arrival arrival) {
      note(wards, arrival.ward(), event);
    }
    event.encounterNamed().ifPresent(encounter -> note(encounters, encounter, event));
    if (event instanceof CatheterEvent named) {
      note(catheters, named.catheter(), event);
    }
    if (event instanceof Exchange exchange) {
      note(catheters, exchange.replacement().catheter(), event);
    }
    if (event instanceof UrineOutput output) {
      output.catheter().ifPresent(catheter -> note(catheters, catheter, event));
    }
  }

  private static <T> void note(Map<T, Set<EventKey>> known, T thing, BedsideEvent event) {
    known.computeIfAbsent(thing, first -> new LinkedHashSet<>()).add(event.key());
  }

  private void addDevice(CatheterId catheter, Set<EventKey> by) {
    sink.add(
        ResourceId.device(patient, catheter),
        by,
        DeviceMapper.Content.of(patient, catheter, timeline.lastPlacementOf(catheter)),
        DeviceMapper::toFhir);
  }

  private void addUse(Placement placement) {
    Set<EventKey> by = new LinkedHashSet<>(Set.of(placement.placedBy().key()));
    placement.end().ifPresent(end -> by.add(end.by().key()));
    EventKey placedBy = placement.placedBy().key();
    sink.add(
        ResourceId.ofEvent("DeviceUseStatement", placedBy),
        by,
        new UseMapper.Content(patient, placement.catheter(), placedBy, placement.span()),
        UseMapper::toFhir);
  }
}
