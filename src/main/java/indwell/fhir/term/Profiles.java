package indwell.fhir.term;

/** Canonicals of our profiles, each once; every resource written claims one of them. */
public final class Profiles {
  public static final String PATIENT = own("catheter-patient");
  public static final String WARD = own("catheter-ward");
  public static final String STAY = own("catheter-stay");
  public static final String DEVICE = own("catheter-device");
  public static final String USE = own("catheter-use");
  public static final String INSERTION = own("catheter-insertion");
  public static final String REMOVAL = own("catheter-removal");
  public static final String EXCHANGE = own("catheter-exchange");
  public static final String SECUREMENT_CHANGE = own("catheter-securement-change");
  public static final String CARE_CHECK = own("catheter-care-check");
  public static final String CARE_ITEM = own("catheter-care-item");
  public static final String BALLOON_VOLUME = own("catheter-balloon-volume");
  public static final String INITIAL_DRAINAGE = own("catheter-initial-drainage");
  public static final String NEED_REVIEW = own("catheter-need-review");
  public static final String URINE_OUTPUT = own("catheter-urine-output");
  public static final String URINE_RATE = own("catheter-urine-rate");
  public static final String BODY_WEIGHT = own("catheter-body-weight");
  public static final String SPECIMEN = own("catheter-specimen");
  public static final String RECORD_PROVENANCE = own("catheter-record-provenance");
  public static final String FLAG = own("catheter-flag");
  public static final String DEVICE_DAY_REPORT = own("catheter-device-day-report");

  public static final String DEVICE_DAY_LIST_REPORT = own("catheter-device-day-list-report");
  public static final String DEVICE_DAY_PATIENT_REPORT = own("catheter-device-day-patient-report");
  public static final String COUNTED_PATIENTS = own("catheter-counted-patients");

  public static final String WARD_GROUP = own("catheter-ward-group");

  public static final String AUDIT_EVENT = own("catheter-audit-event");

  private Profiles() {}

  private static String own(String id) {
    return Systems.BASE + "/StructureDefinition/" + id;
  }
}
