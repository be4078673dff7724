package indwell.fhir.term;

/** Concepts of the code systems that FHIR R4 (4.0.1) defines or binds. */
public final class Hl7 {
  private static final String DEVICE_ACTION = "http://hl7.org/fhir/device-action";
  private static final String CATEGORY = Systems.hl7("observation-category");
  private static final String DATA_OPERATION = Systems.hl7("v3-DataOperation");
  private static final String PARTICIPANT = Systems.hl7("provenance-participant-type");
  private static final String POPULATION = Systems.hl7("measure-population");
  private static final String ACT_CODE = Systems.hl7("v3-ActCode");

  public static final Term IMPLANTED = new Term(DEVICE_ACTION, "implanted", "Implanted");
  public static final Term EXPLANTED = new Term(DEVICE_ACTION, "explanted", "Explanted");
  public static final Term MANIPULATED = new Term(DEVICE_ACTION, "manipulated", "Manipulated");

  public static final Term EXAM = new Term(CATEGORY, "exam", "Exam");
  public static final Term VITAL_SIGNS = new Term(CATEGORY, "vital-signs", "Vital Signs");

  public static final Term WARD = new Term(Systems.hl7("location-physical-type"), "wa", "Ward");

  public static final Term INPATIENT = new Term(ACT_CODE, "IMP", "inpatient encounter");
  public static final Term AMBULATORY = new Term(ACT_CODE, "AMB", "ambulatory");
  public static final Term CLASS_UNKNOWN = new Term(Systems.hl7("v3-NullFlavor"), "UNK", "unknown");

  public static final Term CREATE = new Term(DATA_OPERATION, "CREATE", "create");
  public static final Term UPDATE = new Term(DATA_OPERATION, "UPDATE", "revise");
  public static final Term NULLIFY = new Term(DATA_OPERATION, "NULLIFY", "nullify");

  public static final Term ASSEMBLER = new Term(PARTICIPANT, "assembler", "Assembler");
  public static final Term ENTERER = new Term(PARTICIPANT, "enterer", "Enterer");

  public static final Term SAFETY = new Term(Systems.hl7("flag-category"), "safety", "Safety");

  public static final Term DENOMINATOR = new Term(POPULATION, "denominator", "Denominator");
  public static final Term NUMERATOR = new Term(POPULATION, "numerator", "Numerator");
  public static final Term DECREASE =
      new Term(
          Systems.hl7("measure-improvement-notation"),
          "decrease",
          "Decreased score indicates improvement");

  /** Of a List that is empty because it is known that there is nothing. */
  public static final Term NOBODY =
      new Term(Systems.hl7("list-empty-reason"), "nilknown", "Nil Known");

  private Hl7() {}
}
