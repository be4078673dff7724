package indwell.domain.rule;

import java.util.Optional;

/** What a flag says, by its code in the code system {@code catheter-flag}. */
public enum FlagCode {
  NEED_REVIEW_OVERDUE("need-review-overdue", "Review of need overdue"),
  SECUREMENT_CHANGE_OVERDUE("securement-change-overdue", "Securement change overdue"),
  OUTPUT_CHARTING_OVERDUE("output-charting-overdue", "Urine output charting overdue"),
  CARE_CHECK_OVERDUE("care-check-overdue", "Care check overdue"),
  POSTOPERATIVE_REMOVAL_OVERDUE("postoperative-removal-overdue", "Postoperative removal overdue"),
  DWELL_LIMIT_EXCEEDED("dwell-limit-exceeded", "Dwell limit exceeded"),
  BALLOON_FILL_MISMATCH("balloon-fill-mismatch", "Balloon fill differs from the label"),
  LOW_URINE_OUTPUT("low-urine-output", "Low urine output"),
  NO_ACCEPTED_INDICATION("no-accepted-indication", "No accepted indication"),
  INSERTION_STEPS_MISSING("insertion-steps-missing", "Insertion steps not done"),
  REMOVAL_NOT_RECORDED("removal-not-recorded", "Removal not recorded"),
  OVERLAPPING_CATHETERS("overlapping-catheters", "Overlapping catheters");

  private final String code;
  private final String display;

  FlagCode(String code, String display) {
    this.code = code;
    this.display = display;
  }

  /** The code. */
  public String code() {
    return code;
  }

  /** What people read. */
  public String display() {
    return display;
  }

  /** The flag with that code; empty when there is none. */
  public static Optional<FlagCode> ofCode(String code) {
    for (FlagCode one : values()) {
      if (one.code.equals(code)) {
        return Optional.of(one);
      }
    }
    return Optional.empty();
  }
}
