package indwell.usecase.sent;

import ca.uhn.fhir.parser.DataFormatException;
import indwell.domain.event.BusinessId;
import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;
import indwell.fhir.bundle.Modifiers;
import indwell.fhir.bundle.TakenProfile;
import indwell.fhir.map.FhirJson;
import indwell.usecase.sent.SentResource.Link;
import indwell.usecase.sent.Verdict.Unreadable;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Optional;
import java.util.OptionalLong;
import org.hl7.fhir.r4.model.Device;
import org.hl7.fhir.r4.model.DeviceUseStatement;
import org.hl7.fhir.r4.model.Encounter;
import org.hl7.fhir.r4.model.Identifier;
import org.hl7.fhir.r4.model.Observation;
import org.hl7.fhir.r4.model.Procedure;
import org.hl7.fhir.r4.model.Property;
import org.hl7.fhir.r4.model.Reference;
import org.hl7.fhir.r4.model.Resource;
import org.hl7.fhir.r4.model.Specimen;

/** Reads a resource that was sent as far as it can be read alone. */
final class SentReader {
  private SentReader() {}

  /**
   * Reads one of a type that matters.
   *
   * @param fullUrl its address, without a version
   */
  static SentResource read(
      int number, Place place, String type, Optional<String> fullUrl, byte[] json) {
    try {
      String text = text(json);
      return of(number, place, fullUrl, FhirJson.parse(text), Modifiers.mayBeIn(text), json);
    } catch (DataFormatException | ClassCastException | IllegalArgumentException broken) {
      return unreadable(number, place, type, fullUrl, json);
    }
  }

  static String text(byte[] json) {
    return new String(json, StandardCharsets.UTF_8);
  }

  private static SentResource of(
      int number,
      Place place,
      Optional<String> fullUrl,
      Resource resource,
      boolean mayBeModified,
      byte[] json) {
    Optional<TakenProfile> profile = TakenProfile.of(resource);
    Verdict verdict =
        modified(resource, mayBeModified && profile.isPresent())
            .orElseGet(() -> CountingNeeds.of(resource, profile));
    Optional<String> id = SentResource.idOf(resource);
    SentResource read =
        new SentResource(
            number,
            place,
            resource.fhirType(),
            key(number, resource.fhirType(), id, fullUrl),
            id,
            subject(resource),
            identifiers(resource),
            profile,
            version(resource),
            resource.getMeta().hasLastUpdated()
                ? OptionalLong.of(resource.getMeta().getLastUpdated().toInstant().toEpochMilli())
                : OptionalLong.empty(),
            verdict,
            json);
    return read.isNeeded() || verdict instanceof Unreadable ? read : read.judged(verdict);
  }

  private static Optional<Verdict> modified(Resource resource, boolean mayBe) {
    String type = resource.fhirType();
    List<Issue> found =
        mayBe ? Modifiers.of(resource, path -> type + "." + path) : List.<Issue>of();
    return found.isEmpty() ? Optional.empty() : Optional.of(new Unreadable(found));
  }

  /** Of what no parser takes nothing is known but its place. */
  private static SentResource unreadable(
      int number, Place place, String type, Optional<String> fullUrl, byte[] json) {
    Issue issue =
        Issue.error(
            IssueCode.RESOURCE_INVALID,
            type,
            "The resource cannot be read; expected a resource of FHIR R4.");
    return new SentResource(
        number,
        place,
        type,
        key(number, type, Optional.empty(), fullUrl),
        Optional.empty(),
        Optional.empty(),
        List.of(),
        Optional.empty(),
        OptionalLong.empty(),
        OptionalLong.empty(),
        new Unreadable(List.of(issue)),
        json);
  }

  private static String key(
      int number, String type, Optional<String> id, Optional<String> fullUrl) {
    return fullUrl
        .or(() -> id.map(one -> type + "/" + one))
        .orElseGet(() -> type + " number " + number);
  }

  private static OptionalLong version(Resource resource) {
    String version = resource.getMeta().getVersionId();
    return version != null && version.matches("[0-9]{1,18}")
        ? OptionalLong.of(Long.parseLong(version))
        : OptionalLong.empty();
  }

  static List<BusinessId> identifiers(Resource resource) {
    Property identifiers = resource.getNamedProperty("identifier");
    if (identifiers == null) {
      return List.of();
    }
    return identifiers.getValues().stream()
        .map(Identifier.class::cast)
        .flatMap(one -> identifier(one).stream())
        .toList();
  }

  private static Optional<BusinessId> identifier(Identifier identifier) {
    return identifier.hasSystem() && identifier.hasValue()
        ? Optional.of(new BusinessId(identifier.getSystem(), identifier.getValue()))
        : Optional.empty();
  }

  private static Optional<Link> subject(Resource resource) {
    if (resource instanceof Encounter encounter) {
      return Optional.of(link(encounter.getSubject()));
    } else if (resource instanceof Device device) {
      return Optional.of(link(device.getPatient()));
    } else if (resource instanceof DeviceUseStatement use) {
      return Optional.of(link(use.getSubject()));
    } else if (resource instanceof Procedure procedure) {
      return Optional.of(link(procedure.getSubject()));
    } else if (resource instanceof Observation observation) {
      return Optional.of(link(observation.getSubject()));
    } else if (resource instanceof Specimen specimen) {
      return Optional.of(link(specimen.getSubject()));
    }
    return Optional.empty();
  }

  static Link link(Reference reference) {
    return new Link(
        reference.hasReference() ? reference.getReference() : "",
        identifier(reference.getIdentifier()));
  }
}
