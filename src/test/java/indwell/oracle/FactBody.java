package indwell.oracle;

/** A fact as callers post it to the service. */
final class FactBody {
  private FactBody() {}

  static String of(Fact fact) {
    return """
        {"source":"%s","eventId":"%s","version":%d,"status":"%s","type":"%s","occurredAt":"%s",
         "patient":{"system":"urn:patient","value":"%s"},
         "encounter":{"system":"urn:stay","value":"%s"},"details":%s}"""
        .formatted(
            fact.source(),
            fact.eventId(),
            fact.version(),
            fact.withdrawn() ? "entered-in-error" : "final",
            fact.deed().type(),
            fact.at(),
            fact.patient(),
            fact.encounter(),
            details(fact.deed()));
  }

  private static String details(Fact.Deed deed) {
    return switch (deed.type()) {
      case "patient-admitted", "patient-transferred" ->
          "{\"ward\":\"%s\",\"inpatient\":%s}".formatted(deed.ward(), deed.inpatient());
      case "patient-discharged" -> "{\"withCatheter\":%s}".formatted(deed.withCatheter());
      case "catheter-inserted" -> placing(deed, deed.catheter());
      case "catheter-exchanged" ->
          "{\"catheterId\":\"%s\",\"replacement\":%s}"
              .formatted(deed.catheter(), placing(deed, deed.replacement()));
      case "catheter-removed" -> "{\"catheterId\":\"%s\"}".formatted(deed.catheter());
      case "care-checked" ->
          "{\"catheterId\":\"%s\",\"items\":{\"closed-system\":true}}".formatted(deed.catheter());
      case "weight-measured" -> "{\"kg\":70}";
      default -> throw new IllegalArgumentException("No body for " + deed.type());
    };
  }

  private static String placing(Fact.Deed deed, String catheter) {
    return """
        {"catheterId":"%s","route":"%s","drainage":"%s","sizeCh":14,"indication":"acute-retention",
         "insertedBeforeAdmission":%s}"""
        .formatted(catheter, deed.route(), deed.drainage(), deed.beforeAdmission());
  }
}
