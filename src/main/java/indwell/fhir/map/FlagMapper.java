package indwell.fhir.map;

import indwell.domain.event.BusinessId;
import indwell.domain.rule.FlagCode;
import indwell.domain.rule.FlagSpan;
import indwell.fhir.term.Extensions;
import indwell.fhir.term.Hl7;
import indwell.fhir.term.Ids;
import indwell.fhir.term.Profiles;
import indwell.fhir.term.Systems;
import java.time.Instant;
import java.util.Optional;
import org.hl7.fhir.r4.model.CodeableConcept;
import org.hl7.fhir.r4.model.Extension;
import org.hl7.fhir.r4.model.Flag;
import org.hl7.fhir.r4.model.Flag.FlagStatus;
import org.hl7.fhir.r4.model.Period;

/** A flag that a rule raised, with the facts it rests on. Worked out when asked for, not stored. */
public final class FlagMapper {
  /** Code system of the flags. */
  public static final String SYSTEM = Systems.codeSystem("catheter-flag");

  private static final String AFTER_DEVICE = "-";

  private FlagMapper() {}

  /**
   * Type and id: the same catheter, code and start give the same. The id begins with that of the
   * Device, so that a flag, which is not stored, is found by a resource that is.
   */
  public static ResourceId id(FlagSpan span) {
    BusinessId patient = patient(span);
    String hash =
        Ids.derive(
            "Flag",
            patient.system(),
            patient.value(),
            span.catheter().catheter().value(),
            span.code().code(),
            span.since().toString());
    String device = ResourceId.device(patient, span.catheter().catheter()).id();
    return new ResourceId("Flag", device + AFTER_DEVICE + hash);
  }

  /** Id of the Device that a flag of that id is about; empty when no flag has such an id. */
  public static Optional<String> deviceIdOf(String flagId) {
    int end = flagId.indexOf(AFTER_DEVICE);
    return end > 0 ? Optional.of(flagId.substring(0, end)) : Optional.empty();
  }

  /** The flag in force: status active, its period open. */
  public static Flag active(FlagSpan span, MappingContext context) {
    return of(span, Optional.empty(), context);
  }

  /**
   * The flag that was in force: status inactive.
   *
   * @param end when it went, exclusive: lifted, or the catheter left
   */
  public static Flag past(FlagSpan span, Instant end, MappingContext context) {
    return of(span, Optional.of(end), context);
  }

  private static Flag of(FlagSpan span, Optional<Instant> end, MappingContext context) {
    BusinessId patient = patient(span);
    Flag flag = Parts.claim(new Flag(), id(span), Profiles.FLAG);
    ResourceId device = ResourceId.device(patient, span.catheter().catheter());
    flag.addExtension(new Extension(Extensions.FLAG_DETAIL, device.reference()));
    flag.addExtension(TraceExtension.of(span.trace()));
    flag.setStatus(end.isPresent() ? FlagStatus.INACTIVE : FlagStatus.ACTIVE);
    flag.addCategory(Hl7.SAFETY.concept());
    flag.setCode(code(span));
    flag.setSubject(ResourceId.patient(patient).reference());
    Period period = new Period().setStartElement(context.dateTime(span.since()));
    end.ifPresent(until -> period.setEndElement(context.dateTime(until)));
    flag.setPeriod(period);
    return flag;
  }

  private static BusinessId patient(FlagSpan span) {
    return span.catheter().placedBy().patient();
  }

  /** What the flag says; the text adds what was found, with its values and units. */
  private static CodeableConcept code(FlagSpan span) {
    FlagCode code = span.code();
    CodeableConcept concept =
        new CodeableConcept().setText(code.display() + ": " + span.trace().finding());
    concept.addCoding().setSystem(SYSTEM).setCode(code.code()).setDisplay(code.display());
    return concept;
  }
}
