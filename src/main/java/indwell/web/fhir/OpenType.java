package indwell.web.fhir;

import com.fasterxml.jackson.core.JsonToken;
import java.util.Optional;
import java.util.Set;

/**
 * The types that {@code value[x]} may have, and the kind of JSON that each is written as.
 *
 * <p>Source: https://hl7.org/fhir/R4/datatypes.html#open
 */
final class OpenType {
  private static final String PREFIX = "value";

  private static final Set<String> TEXTS =
      Set.of(
          "Base64Binary",
          "Canonical",
          "Code",
          "Date",
          "DateTime",
          "Id",
          "Instant",
          "Markdown",
          "Oid",
          "String",
          "Time",
          "Uri",
          "Url",
          "Uuid");

  private static final Set<String> NUMBERS =
      Set.of("Decimal", "Integer", "PositiveInt", "UnsignedInt");

  private static final Set<String> OBJECTS =
      Set.of(
          "Address",
          "Age",
          "Annotation",
          "Attachment",
          "CodeableConcept",
          "Coding",
          "ContactDetail",
          "ContactPoint",
          "Contributor",
          "Count",
          "DataRequirement",
          "Distance",
          "Dosage",
          "Duration",
          "Expression",
          "HumanName",
          "Identifier",
          "Meta",
          "Money",
          "ParameterDefinition",
          "Period",
          "Quantity",
          "Range",
          "Ratio",
          "Reference",
          "RelatedArtifact",
          "SampledData",
          "Signature",
          "Timing",
          "TriggerDefinition",
          "UsageContext");

  private OpenType() {}

  /**
   * How the value in an element such as {@code valueDate} is written.
   *
   * @return empty for the name of another element
   */
  static Optional<JsonToken> written(String element) {
    String type = element.startsWith(PREFIX) ? element.substring(PREFIX.length()) : "";
    if (TEXTS.contains(type)) {
      return Optional.of(JsonToken.VALUE_STRING);
    }
    if (NUMBERS.contains(type)) {
      return Optional.of(JsonToken.VALUE_NUMBER_INT);
    }
    if (OBJECTS.contains(type)) {
      return Optional.of(JsonToken.START_OBJECT);
    }
    return type.equals("Boolean") ? Optional.of(JsonToken.VALUE_TRUE) : Optional.empty();
  }
}
