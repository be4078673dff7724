package indwell.fhir.map;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.BusinessId;
import indwell.domain.event.EventVersion;
import indwell.fhir.term.EventIdentifier;
import indwell.fhir.term.Hl7;
import indwell.fhir.term.Profiles;
import indwell.fhir.term.Systems;
import indwell.fhir.term.Term;
import java.time.Instant;
import java.util.Collection;
import java.util.Optional;
import org.hl7.fhir.r4.model.Provenance;
import org.hl7.fhir.r4.model.Provenance.ProvenanceEntityRole;

/**
 * Who sent and who recorded an event, when it happened and when it was taken. One Provenance an
 * event: each version of the event that makes or made resources is a version of it.
 */
public final class ProvenanceMapper {
  private ProvenanceMapper() {}

  /** What a version of an event did to the record. */
  public enum Activity {
    /** The first version that makes resources. */
    CREATE,
    /** A later one. */
    UPDATE,
    /** The event is taken back. */
    NULLIFY;

    private Term term() {
      return switch (this) {
        case CREATE -> Hl7.CREATE;
        case UPDATE -> Hl7.UPDATE;
        case NULLIFY -> Hl7.NULLIFY;
      };
    }
  }

  /** Type and id of the Provenance of an event. */
  public static ResourceId id(EventVersion version) {
    return ResourceId.ofEvent("Provenance", version.key());
  }

  /**
   * The Provenance of a version.
   *
   * @param receivedAt when the service took it
   * @param targets what it made or, when taken back, had made; at least one
   */
  public static Provenance of(
      EventVersion version,
      Instant receivedAt,
      Activity activity,
      Collection<ResourceId> targets,
      MappingContext context) {
    Provenance provenance = Parts.claim(new Provenance(), id(version), Profiles.RECORD_PROVENANCE);
    targets.forEach(target -> provenance.addTarget(target.reference()));
    stated(version).map(event -> context.dateTime(event.at())).ifPresent(provenance::setOccurred);
    provenance.setRecordedElement(context.instant(receivedAt));
    provenance.setActivity(activity.term().concept());
    addAgent(provenance, Hl7.ASSEMBLER, new BusinessId(Systems.SOURCE, version.key().source()));
    recorder(version).ifPresent(recorder -> addAgent(provenance, Hl7.ENTERER, recorder));
    provenance
        .addEntity()
        .setRole(ProvenanceEntityRole.SOURCE)
        .getWhat()
        .setIdentifier(EventIdentifier.of(version.key()));
    return provenance;
  }

  private static void addAgent(Provenance provenance, Term type, BusinessId who) {
    provenance.addAgent().setType(type.concept()).getWho().setIdentifier(Parts.identifier(who));
  }

  private static Optional<BedsideEvent> stated(EventVersion version) {
    return version instanceof EventVersion.Stated stated
        ? Optional.of(stated.event())
        : Optional.empty();
  }

  private static Optional<BusinessId> recorder(EventVersion version) {
    return version instanceof EventVersion.Withdrawn withdrawn
        ? withdrawn.recorder()
        : stated(version).flatMap(event -> event.envelope().recorder());
  }
}
