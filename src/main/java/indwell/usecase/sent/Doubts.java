package indwell.usecase.sent;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.EventKey;
import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;
import indwell.domain.time.Span;
import indwell.domain.timeline.Placement;
import indwell.domain.timeline.Timeline;
import indwell.fhir.map.MappingContext;
import indwell.fhir.map.WardEntries.Gap;
import indwell.fhir.term.EventIdentifier;
import indwell.port.ProfileValidator;
import indwell.port.ProfileValidator.Finding;
import java.time.Instant;
import java.util.Date;
import java.util.List;
import java.util.Optional;
import org.hl7.fhir.r4.model.DeviceUseStatement;
import org.hl7.fhir.r4.model.Period;
import org.hl7.fhir.r4.model.Resource;

/** Says what is wrong with a resource, or with what several of them say together. */
final class Doubts {
  /** So many resources are validated at most, for validating is slow. */
  private static final int MOST_VALIDATED = 20;

  private final ProfileValidator validator;
  private final MappingContext context;
  private int validated;

  /**
   * @param context how times are written
   */
  Doubts(ProfileValidator validator, MappingContext context) {
    this.validator = validator;
    this.context = context;
  }

  /** In what a resource breaks R4 and its profile; nothing is looked for in most of many. */
  List<Issue> findings(SentResource sent) {
    if (validated == MOST_VALIDATED) {
      return List.of();
    }
    validated++;
    return validator
        .validate(sent.json(), sent.profile().map(one -> List.of(one.canonical())).orElseThrow())
        .stream()
        .filter(Finding::isError)
        .limit(3)
        .map(
            finding ->
                Issue.error(IssueCode.RESOURCE_INVALID, finding.expression(), finding.message()))
        .toList();
  }

  /** A stay that names no ward for some time. */
  Issue gap(SentResource sent, Gap gap) {
    return Issue.warning(
        IssueCode.STAY_WITH_GAP,
        sent.place().at("Encounter.location"),
        sent.name()
            + " names no ward from "
            + context.text(gap.from())
            + gap.until().map(until -> " to " + context.text(until)).orElse(" on")
            + "; the patient was counted in ward "
            + gap.ward().code()
            + " until the next movement.");
  }

  /**
   * A use of a catheter that was sent along with the Procedures, and says otherwise than they do.
   *
   * @param events of the patient
   */
  Optional<Issue> use(SentResource sent, Resource own, List<BedsideEvent> events) {
    if (!(own instanceof DeviceUseStatement use)) {
      return Optional.empty();
    }
    EventKey placedBy = EventIdentifier.read(use.getIdentifierFirstRep());
    Optional<Span> span =
        Timeline.of(events).placements().stream()
            .filter(one -> one.placedBy().key().equals(placedBy))
            .map(Placement::span)
            .findFirst();
    Period said = use.hasTimingPeriod() ? use.getTimingPeriod() : new Period();
    if (span.filter(one -> one.equals(span(said))).isPresent()) {
      return Optional.empty();
    }
    return Optional.of(
        Issue.warning(
            IssueCode.USE_SAYS_OTHERWISE,
            sent.place().at("DeviceUseStatement.timing"),
            sent.name()
                + " says otherwise than the Procedures that were sent, which put the catheter in"
                + " place "
                + span.map(this::shown).orElse("never")
                + "; the Procedures were counted."));
  }

  private static Span span(Period period) {
    return new Span(
        period.hasStart() ? period.getStart().toInstant() : Instant.MIN,
        Optional.ofNullable(period.getEnd()).map(Date::toInstant));
  }

  private String shown(Span span) {
    return "from "
        + context.text(span.start())
        + span.end().map(end -> " to " + context.text(end)).orElse(" on");
  }
}
