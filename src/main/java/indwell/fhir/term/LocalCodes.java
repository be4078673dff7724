package indwell.fhir.term;

/** Concepts of our own code systems that no domain enum names. */
public final class LocalCodes {
  private static final String OBSERVATION = Systems.codeSystem("catheter-observation");
  private static final String KIND = Systems.codeSystem("catheter-device-kind");
  private static final String PROPERTY = Systems.codeSystem("catheter-device-property");

  public static final Term BALLOON_VOLUME =
      new Term(OBSERVATION, "balloon-volume", "Balloon fill volume");
  public static final Term INITIAL_DRAINAGE =
      new Term(OBSERVATION, "initial-drainage", "Initial drainage volume");
  public static final Term NEED_REVIEW =
      new Term(OBSERVATION, "need-review", "Review of the need for the catheter");

  /**
   * The indication stated beside "not needed". A code of its own: FHIR's obs-7 forbids a component
   * that repeats the code of an Observation with a value.
   */
  public static final Term STATED_INDICATION =
      new Term(OBSERVATION, "stated-indication", "Indication stated at a review");

  public static final Term URINE_RATE =
      new Term(OBSERVATION, "urine-output-per-weight", "Urine output per body weight and time");

  public static final Term SUPRAPUBIC_CATHETER =
      new Term(KIND, "suprapubic-catheter", "Indwelling suprapubic urinary catheter");
  public static final Term SECUREMENT =
      new Term(KIND, "securement-device", "Catheter securement device");

  public static final Term SIZE = new Term(PROPERTY, "size", "Catheter size");
  public static final Term LUMENS = new Term(PROPERTY, "lumens", "Number of lumens");
  public static final Term BALLOON_LABEL =
      new Term(PROPERTY, "balloon-label-volume", "Labelled balloon volume");
  public static final Term MATERIAL = new Term(PROPERTY, "material", "Catheter material");

  private LocalCodes() {}
}
