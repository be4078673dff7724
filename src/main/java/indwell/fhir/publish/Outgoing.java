package indwell.fhir.publish;

import indwell.fhir.map.FhirJson;
import indwell.fhir.term.Systems;
import java.net.URLEncoder;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.NavigableSet;
import java.util.Optional;
import java.util.TreeSet;
import java.util.function.UnaryOperator;
import java.util.regex.Pattern;
import org.hl7.fhir.r4.model.Base;
import org.hl7.fhir.r4.model.Device;
import org.hl7.fhir.r4.model.Encounter;
import org.hl7.fhir.r4.model.Identifier;
import org.hl7.fhir.r4.model.Reference;
import org.hl7.fhir.r4.model.Resource;

/**
 * A stored resource as another server is sent it: without what each server says for itself, its
 * version and the time of its last update.
 */
public final class Outgoing {
  private static final Pattern RELATIVE = Pattern.compile("[A-Z][A-Za-z]+/[A-Za-z0-9.-]{1,64}");

  private Outgoing() {}

  /**
   * The resource of a stored text.
   *
   * @throws ca.uhn.fhir.parser.DataFormatException if it is none
   */
  public static Resource of(String json) {
    Resource resource = FhirJson.parse(json);
    resource.setId(resource.getIdElement().getIdPart());
    resource.getMeta().setVersionId(null).setLastUpdated(null);
    return resource;
  }

  /** The relative references, {@code Patient/p1}, that it makes to others. */
  public static NavigableSet<String> references(Resource resource) {
    NavigableSet<String> found = new TreeSet<>();
    for (Reference reference : all(resource)) {
      Optional.ofNullable(reference.getReference())
          .filter(text -> RELATIVE.matcher(text).matches())
          .ifPresent(found::add);
    }
    return found;
  }

  /**
   * The same resource with other references; those that are not relative stay.
   *
   * @param ids the reference to put in place of each
   */
  public static Resource addressed(Resource resource, UnaryOperator<String> ids) {
    Resource copy = resource.copy();
    for (Reference reference : all(copy)) {
      Optional.ofNullable(reference.getReference())
          .filter(text -> RELATIVE.matcher(text).matches())
          .ifPresent(text -> reference.setReference(ids.apply(text)));
    }
    return copy;
  }

  /**
   * What a server that gives its own ids finds the resource by: its business identifier; those of
   * catheters and stays are unique within their patient only. R4 lets a Provenance have none: it
   * carries its reference here as a tag.
   *
   * @param resource addressed as that server knows the others
   * @param reference the reference that the resource has here
   * @return search parameters, encoded for an address
   */
  public static String criterion(Resource resource, String reference) {
    return identifier(resource)
        .map(one -> "identifier=" + encoded(one.getSystem() + "|" + one.getValue()))
        .map(one -> one + ofPatient(resource))
        .orElseGet(() -> "_tag=" + encoded(Systems.PUBLICATION + "|" + tag(reference)));
  }

  /** Of one patient are those whose id here is made of the patient and the identifier. */
  private static String ofPatient(Resource resource) {
    Reference patient = new Reference();
    if (resource instanceof Device device) {
      patient = device.getPatient();
    } else if (resource instanceof Encounter stay) {
      patient = stay.getSubject();
    }
    return patient.hasReference() ? "&patient=" + encoded(patient.getReference()) : "";
  }

  /** The same resource with the tag that {@link #criterion} asks for, if it asks for one. */
  public static Resource tagged(Resource resource, String reference) {
    if (identifier(resource).isEmpty()) {
      resource.getMeta().addTag().setSystem(Systems.PUBLICATION).setCode(tag(reference));
    }
    return resource;
  }

  private static Optional<Identifier> identifier(Resource resource) {
    return values(resource, "identifier").stream()
        .filter(Identifier.class::isInstance)
        .map(Identifier.class::cast)
        .filter(one -> one.hasSystem() && one.hasValue())
        .findFirst();
  }

  /** Whether the two say the same, {@code meta}, narrative and id aside. */
  public static boolean sameContent(Resource one, Resource other) {
    return bare(one).equals(bare(other));
  }

  private static String bare(Resource resource) {
    Resource copy = resource.copy();
    copy.setId("");
    copy.setMeta(null);
    if (copy instanceof org.hl7.fhir.r4.model.DomainResource domain) {
      domain.setText(null);
    }
    return FhirJson.encode(copy);
  }

  private static List<Base> values(Resource resource, String name) {
    return resource.children().stream()
        .filter(property -> property.getName().equals(name))
        .flatMap(property -> property.getValues().stream())
        .toList();
  }

  private static List<Reference> all(Resource resource) {
    return FhirJson.context()
        .newTerser()
        .getAllPopulatedChildElementsOfType(resource, Reference.class);
  }

  /** A code has no slash in every server's mind; an id has none. */
  private static String tag(String reference) {
    return reference.replace('/', '.');
  }

  private static String encoded(String text) {
    return URLEncoder.encode(text, StandardCharsets.UTF_8);
  }
}
