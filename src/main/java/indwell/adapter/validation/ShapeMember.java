package indwell.adapter.validation;

/** What the name of a member says of the leaves that it may be or hold. */
enum ShapeMember {
  /** Of type dateTime or instant, as far as our resources have them. */
  TIME,
  ID,
  VERSION_ID,
  VALUE,
  REFERENCE,
  SYSTEM,
  META,
  IDENTIFIER,
  QUANTITY,
  OTHER;

  static ShapeMember of(String name) {
    return switch (name) {
      case "effectiveDateTime",
          "performedDateTime",
          "occurredDateTime",
          "collectedDateTime",
          "valueDateTime",
          "recorded",
          "start",
          "end",
          "lastUpdated" ->
          TIME;
      case "id" -> ID;
      case "versionId" -> VERSION_ID;
      case "value" -> VALUE;
      case "reference" -> REFERENCE;
      case "system" -> SYSTEM;
      case "meta" -> META;
      case "identifier", "valueIdentifier" -> IDENTIFIER;
      case "valueQuantity" -> QUANTITY;
      default -> OTHER;
    };
  }
}
