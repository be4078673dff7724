package indwell.domain.rule;

/**
 * What kind of hand a flag asks for, the most pressing first. It orders what a ward reads; it is no
 * grade of severity. Own choice; no document stands behind it.
 */
public enum Attention {
  /** The patient may be unwell: somebody looks. */
  PATIENT("Look at the patient"),
  /** The catheter may not be needed any more: somebody decides. */
  REMOVAL("Could it come out?"),
  /** Something is to be done or charted at the bedside. */
  CARE("Do on the round"),
  /** The record, or the insertion that it tells of, has something to be put right. */
  RECORD("Check and put right");

  private final String words;

  Attention(String words) {
    this.words = words;
  }

  /** What a ward reads. */
  public String words() {
    return words;
  }

  /** What the flag asks for. */
  public static Attention of(FlagCode code) {
    return switch (code) {
      case LOW_URINE_OUTPUT -> PATIENT;
      case NEED_REVIEW_OVERDUE,
          POSTOPERATIVE_REMOVAL_OVERDUE,
          DWELL_LIMIT_EXCEEDED,
          NO_ACCEPTED_INDICATION ->
          REMOVAL;
      case SECUREMENT_CHANGE_OVERDUE, OUTPUT_CHARTING_OVERDUE, CARE_CHECK_OVERDUE -> CARE;
      case BALLOON_FILL_MISMATCH,
          INSERTION_STEPS_MISSING,
          REMOVAL_NOT_RECORDED,
          OVERLAPPING_CATHETERS ->
          RECORD;
    };
  }
}
