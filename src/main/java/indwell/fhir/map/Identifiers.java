package indwell.fhir.map;

import java.util.List;
import org.hl7.fhir.r4.model.Base;
import org.hl7.fhir.r4.model.Identifier;
import org.hl7.fhir.r4.model.Property;
import org.hl7.fhir.r4.model.Resource;

/** The business identifiers of a resource, as a search finds them. */
public final class Identifiers {
  private Identifiers() {}

  /** {@code system|value} of each identifier; none for a type without identifiers. */
  public static List<String> tokensOf(Resource resource) {
    Property identifiers = resource.getNamedProperty("identifier");
    if (identifiers == null) {
      return List.of();
    }
    return identifiers.getValues().stream().map(Identifiers::token).toList();
  }

  private static String token(Base identifier) {
    Identifier id = (Identifier) identifier;
    return text(id.getSystem()) + "|" + text(id.getValue());
  }

  private static String text(String value) {
    return value == null ? "" : value;
  }
}
