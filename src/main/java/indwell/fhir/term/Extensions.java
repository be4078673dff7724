package indwell.fhir.term;

/** Canonicals of the extensions in use, each once, with the names of their parts. */
public final class Extensions {
  /** A movement event, on Encounter. */
  public static final String MOVEMENT = own("catheter-movement");

  /** What was put in, on Procedure. */
  public static final String PLACEMENT = own("catheter-placement");

  /** A charted step of the insertion, on Procedure. */
  public static final String INSERTION_STEP = own("catheter-insertion-step");

  /** The catheter that a specimen was taken through, on Specimen. */
  public static final String OF_SPECIMEN = own("catheter-of-specimen");

  /** What a specimen was taken for, on Specimen. */
  public static final String SPECIMEN_PURPOSE = own("catheter-specimen-purpose");

  /** What a ward sets for itself from a date on, on Location. */
  public static final String WARD_SETTINGS = own("catheter-ward-settings");

  /** The ward that a report is about, on MeasureReport. */
  public static final String REPORT_WARD = own("catheter-report-ward");

  /** Why a flag is up, on Flag. */
  public static final String TRACE = own("catheter-trace");

  /** The resource that a flag is about, on Flag (FHIR core). */
  public static final String FLAG_DETAIL = core("flag-detail");

  /** Why a value is not there (FHIR core). */
  public static final String DATA_ABSENT_REASON = core("data-absent-reason");

  private Extensions() {}

  private static String own(String id) {
    return Systems.BASE + "/StructureDefinition/" + id;
  }

  private static String core(String id) {
    return "http://hl7.org/fhir/StructureDefinition/" + id;
  }
}
