package indwell.fhir.map;

import indwell.domain.event.BusinessId;
import indwell.domain.event.Movement;
import indwell.domain.timeline.Stay;
import indwell.domain.timeline.Timeline;
import indwell.fhir.map.StayMapper.Kind;
import indwell.fhir.map.StayMapper.WardEntry;
import java.util.List;
import java.util.Optional;

/** Says of an encounter what the timeline makes of it. */
final class StayContents {
  private final Timeline timeline;
  private final BusinessId patient;

  StayContents(Timeline timeline, BusinessId patient) {
    this.timeline = timeline;
    this.patient = patient;
  }

  StayMapper.Content of(BusinessId encounter) {
    List<Movement> movements =
        timeline.events().stream()
            .filter(Movement.class::isInstance)
            .map(Movement.class::cast)
            .filter(movement -> movement.encounter().equals(encounter))
            .toList();
    Optional<Stay> stay =
        timeline.stays().stream().filter(one -> one.encounter().equals(encounter)).findFirst();
    return new StayMapper.Content(
        patient,
        encounter,
        stay.map(Stay::span),
        stay.map(StayContents::kind).orElse(Kind.UNKNOWN),
        stay.map(StayContents::wards).orElse(List.of()),
        movements.stream().map(Bare::of).map(Movement.class::cast).toList());
  }

  private static List<WardEntry> wards(Stay stay) {
    return stay.wards().stream()
        .filter(ward -> !ward.span().isEmpty())
        .map(ward -> new WardEntry(ward.ward(), ward.span()))
        .toList();
  }

  /** As the timeline reads it: a movement that changed nothing, or was overruled, says nothing. */
  private static Kind kind(Stay stay) {
    return stay.firstInpatient().isPresent() ? Kind.INPATIENT : Kind.AMBULATORY;
  }
}
