package indwell.domain.candidate;

/**
 * A sign or symptom of the urinary criteria. Lower abdominal pain, bladder or pelvic discomfort is
 * suprapubic, general abdominal pain is not; left or right lower back or flank pain is
 * costovertebral, general low back pain is not. A person decides which of them a note means.
 *
 * <p>Source: NHSN manual chapter 7, Table 1 and comments (rules U1 to U4, U13, U14; restated,
 * Taiwan CDC); that fever and hypothermia are never set aside, from memory.
 */
public enum Symptom implements ElementKind {
  FEVER("fever", Bar.NONE),
  HYPOTHERMIA("hypothermia", Bar.NONE),
  SUPRAPUBIC_TENDERNESS("suprapubic-tenderness", Bar.OTHER_CAUSE),
  COSTOVERTEBRAL_PAIN("costovertebral-pain", Bar.OTHER_CAUSE),
  URGENCY("urgency", Bar.CATHETER),
  FREQUENCY("frequency", Bar.CATHETER),
  DYSURIA("dysuria", Bar.CATHETER),
  APNEA("apnea", Bar.OTHER_CAUSE),
  BRADYCARDIA("bradycardia", Bar.OTHER_CAUSE),
  LETHARGY("lethargy", Bar.OTHER_CAUSE),
  VOMITING("vomiting", Bar.OTHER_CAUSE);

  /** What keeps a symptom from being used. */
  public enum Bar {
    NONE,
    /** Another recognised cause. */
    OTHER_CAUSE,
    /** A catheter in place in any portion of the date of the symptom. */
    CATHETER
  }

  private final String code;
  private final Bar bar;

  Symptom(String code, Bar bar) {
    this.code = code;
    this.bar = bar;
  }

  @Override
  public String code() {
    return code;
  }

  /** What keeps it from being used. */
  public Bar bar() {
    return bar;
  }

  /** Whether it is read off a temperature. */
  public boolean isTemperature() {
    return this == FEVER || this == HYPOTHERMIA;
  }
}
