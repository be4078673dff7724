package indwell.fhir.term;

/** Naming and code systems, each once. */
public final class Systems {
  /** Base of every canonical and naming system of our own; a stable name, not an address. */
  public static final String BASE = "https://indwell.example/fhir";

  /** Identifiers of what an event made. */
  public static final String EVENT = BASE + "/event";

  /** Kinds of healthcare service locations: of ward, for surveillance. */
  public static final String HSLOC =
      "https://www.cdc.gov/nhsn/cdaportal/terminology/codesystem/hsloc.html";

  /** Codes of submissions to NHSN; CDC means them for submissions alone. */
  public static final String CDC_NHSN =
      "https://www.cdc.gov/nhsn/cdaportal/terminology/codesystem/cdcnhsn.html";

  /** Ward codes. */
  public static final String WARD = BASE + "/ward";

  /** Catheter ids; unique within a patient only. */
  public static final String CATHETER = BASE + "/catheter";

  /** Facts that people supplied for a ward and month: {@code ward/month/version}. */
  public static final String SURVEILLANCE_FACTS = BASE + "/surveillance-facts";

  /** Tags on what another server is sent that can have no identifier. */
  public static final String PUBLICATION = BASE + "/publication";

  /** Sending systems. */
  public static final String SOURCE = BASE + "/source";

  public static final String SNOMED = "http://snomed.info/sct";
  public static final String LOINC = "http://loinc.org";
  public static final String UCUM = "http://unitsofmeasure.org";

  private Systems() {}

  /** One of our own code systems. */
  public static String codeSystem(String id) {
    return BASE + "/CodeSystem/" + id;
  }

  /** A code system of HL7 terminology. */
  static String hl7(String id) {
    return "http://terminology.hl7.org/CodeSystem/" + id;
  }
}
