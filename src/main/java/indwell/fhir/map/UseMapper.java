package indwell.fhir.map;

import indwell.domain.event.BusinessId;
import indwell.domain.event.CatheterId;
import indwell.domain.event.EventKey;
import indwell.domain.time.Span;
import indwell.fhir.term.EventIdentifier;
import indwell.fhir.term.Profiles;
import org.hl7.fhir.r4.model.DeviceUseStatement;
import org.hl7.fhir.r4.model.DeviceUseStatement.DeviceUseStatementStatus;

/**
 * The time of a catheter from the insertion or exchange that put it in place to what ended that,
 * rests at home included.
 */
public final class UseMapper {
  private UseMapper() {}

  record Content(BusinessId patient, CatheterId catheter, EventKey placedBy, Span span) {}

  static DeviceUseStatement toFhir(Content use, MappingContext context) {
    ResourceId id = ResourceId.ofEvent("DeviceUseStatement", use.placedBy());
    DeviceUseStatement statement = Parts.claim(new DeviceUseStatement(), id, Profiles.USE);
    statement.addIdentifier(EventIdentifier.of(use.placedBy()));
    statement.setStatus(
        use.span().end().isPresent()
            ? DeviceUseStatementStatus.COMPLETED
            : DeviceUseStatementStatus.ACTIVE);
    statement.setSubject(ResourceId.patient(use.patient()).reference());
    statement.addDerivedFrom(ResourceId.ofEvent("Procedure", use.placedBy()).reference());
    statement.setTiming(context.period(use.span()));
    statement.setDevice(ResourceId.device(use.patient(), use.catheter()).reference());
    statement.setBodySite(Parts.bladder());
    return statement;
  }
}
