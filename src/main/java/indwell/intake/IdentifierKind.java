package indwell.intake;

import indwell.domain.event.BusinessId;
import indwell.domain.refusal.IssueCode;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Pattern;

/** An identifier of a patient, a stay or a person: {@code {system, value}}, both required. */
record IdentifierKind() implements FieldKind<BusinessId> {

  /** FHIR R4, data type Identifier: with this system the value is itself a URI. */
  private static final String URI_AS_VALUE = "urn:ietf:rfc:3986";

  private static final Pattern FULL_URI = Pattern.compile("(https?|urn):.+");

  private static void refuseOther(String value, String path, Faults faults) {
    if (!FULL_URI.matcher(value).matches() || !AbsoluteUri.matches(value)) {
      faults.add(
          IssueCode.NOT_AN_ABSOLUTE_URI,
          path,
          "Text %s of field %s is no http, https or urn URI; expected one, as the system is %s."
              .formatted(Quoted.text(value), path, URI_AS_VALUE));
    }
  }

  @Override
  public String expected() {
    return "an object with system and value";
  }

  @Override
  public Optional<BusinessId> read(Object value, String path, Faults faults) {
    if (!(value instanceof Map<?, ?> fields)) {
      faults.wrongType(path, value, expected());
      return Optional.empty();
    }
    ObjectReader reader = ObjectReader.of(fields, path, faults);
    Optional<String> system = reader.required("system", Kinds.URI);
    Optional<String> within = reader.required("value", Kinds.TEXT);
    reader.refuseUnknown();
    if (system.filter(URI_AS_VALUE::equals).isPresent()) {
      within.ifPresent(uri -> refuseOther(uri, reader.pathOf("value"), faults));
    }
    return system.flatMap(name -> within.map(id -> new BusinessId(name, id)));
  }
}
