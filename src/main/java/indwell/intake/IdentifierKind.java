package indwell.intake;

import indwell.domain.event.BusinessId;
import java.util.Map;
import java.util.Optional;

/** An identifier of a patient, a stay or a person: {@code {system, value}}, both required. */
record IdentifierKind() implements FieldKind<BusinessId> {

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
    return system.flatMap(name -> within.map(id -> new BusinessId(name, id)));
  }
}
