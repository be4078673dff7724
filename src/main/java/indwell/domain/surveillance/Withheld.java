package indwell.domain.surveillance;

/** Why a figure is not given. */
public enum Withheld {
  PREDICTED_BELOW_ONE("The predicted count is below 1.0, too few to compare with (rule S2)."),
  NO_PREDICTION("No predicted count is known."),
  NO_OBSERVATION("No confirmed count of events is known."),
  BASELINES_DIFFER("The predictions rest on different baselines, which are never added (rule S7)."),
  NO_PATIENT_DAYS("There are no patient days to divide by."),
  NO_CATHETER_DAYS("There are no catheter days to divide by (rule C33)."),
  NO_SAMPLE("No weekly sample is known."),
  NO_SAMPLED_PATIENT_DAYS("The weekly sample has no patient days to divide by."),
  NO_MANUAL_COUNT("No manual count is known."),
  MANUAL_COUNT_ZERO("The manual count is 0, and no per cent of it can be taken."),
  NO_LOCATION_GROUP("The ward has no location group in the configuration, which the table needs."),
  EVENTS_WITHOUT_DATES(
      "Some confirmed events have no dates, so the gaps between events are not known."),
  NO_EVENT_DATES("Fewer than two dated events are known, so there is no gap between two.");

  private final String sentence;

  Withheld(String sentence) {
    this.sentence = sentence;
  }

  /** The reason as a sentence. */
  public String sentence() {
    return sentence;
  }
}
