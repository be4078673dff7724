package indwell.domain.rule;

/**
 * The rules by their number in {@code docs/rules.md}, each with the published source behind it. The
 * tags after the source are those of the trade: published, restated, from memory, or common
 * practice.
 */
public enum RuleId {
  DEN_1(
      "DEN-1",
      "CDC form 57.118, columns counted once a day at the same time (published); NHSN manual"
          + " chapter 7, urinary catheter days"),
  ELI_1(
      "ELI-1",
      "NHSN manual chapter 7, Definitions: placement day is Day 1, eligible from Day 3 on (restated,"
          + " Taiwan CDC)"),
  ELI_2(
      "ELI-2",
      "NHSN manual chapter 7, Definitions: the count restarts after a full calendar day without"
          + " (restated, Taiwan CDC)"),
  ELI_3(
      "ELI-3",
      "NHSN manual chapter 7, Definitions: the day after removal from Day 3 on (restated, Taiwan"
          + " CDC)"),
  ATT_1(
      "ATT-1",
      "NHSN manual chapter 2, Location of Attribution and Transfer Rule (restated, Taiwan CDC)"),
  FLAG_NEED_REVIEW(
      "FLAG-NEED-REVIEW",
      "HICPAC 2009 I.A, only as long as needed (published); AHRQ toolkit 2015, indication on each"
          + " day of use (published); the noon is a default of Indwell"),
  FLAG_SECUREMENT(
      "FLAG-SECUREMENT",
      "HICPAC 2009 II, secure after insertion (published); seven days: common practice, no source"),
  FLAG_OUTPUT_CHARTING(
      "FLAG-OUTPUT-CHARTING", "eight hours, one shift: common practice, no source"),
  FLAG_CARE_CHECK(
      "FLAG-CARE-CHECK",
      "AHRQ toolkit 2015, daily maintenance items (published); twelve hours: common practice, no"
          + " source"),
  FLAG_POSTOPERATIVE(
      "FLAG-POSTOPERATIVE",
      "HICPAC 2009 I.A.4, preferably within 24 h (from memory); ASID (published)"),
  FLAG_DWELL("FLAG-DWELL", "the maker's instructions, as sent with the insertion"),
  FLAG_BALLOON(
      "FLAG-BALLOON",
      "fill with the labelled volume: common practice, no source; 0.5 mL tolerance is a default of"
          + " Indwell"),
  FLAG_LOW_OUTPUT(
      "FLAG-LOW-OUTPUT",
      "KDIGO 2012 AKI guideline, Table 2, urine output (restated, MSD Manual), read as the ward has"
          + " set it: by the mean or by every charted hour, Allen 2020 (published), or neonatal"
          + " (restated, BMC Nephrol 2020)"),
  FLAG_INDICATION(
      "FLAG-INDICATION",
      "HICPAC 2009 Table 2, appropriate and inappropriate indications (published)"),
  FLAG_STEPS("FLAG-STEPS", "HICPAC 2009 II, aseptic insertion (published); steps: common practice"),
  FLAG_REMOVAL_UNRECORDED(
      "FLAG-REMOVAL-UNRECORDED",
      "every catheter is counted in and out: common practice, no source"),
  FLAG_OVERLAP("FLAG-OVERLAP", "one urethral catheter at a time: common practice, no source"),
  DUR_1(
      "DUR-1",
      "NHSN manual chapter 7, Table 3, device utilization ratio (restated, HL7 Quality Measure"
          + " guide), rule C29"),
  RATE_1(
      "RATE-1",
      "NHSN manual chapter 7, Table 3, CAUTI rate (restated; published and recomputed against NHSN"
          + " 2013 data), rules C28, C33"),
  SAMPLE_1(
      "SAMPLE-1",
      "NHSN manual chapter 7, Table 2, weekly sampling (from memory), rules C21, C22, C24; the"
          + " threshold of 75 device days: Thompson 2015 (published)"),
  ELEC_1(
      "ELEC-1",
      "NHSN manual chapter 7, Table 2, electronic counts: 5 % (restated), three consecutive months"
          + " (from memory), rules C17 to C20"),
  SIR_1(
      "SIR-1",
      "NHSN, Keys to Success with the SIR (published); mid-P exact: Kulkarni 1998 (published), that"
          + " NHSN uses it: published and recomputed, rules S1 to S7"),
  SUR_1(
      "SUR-1",
      "NHSN, A Guide to the SUR (published); withheld below 1.0 and mid-P exact (from memory), rules"
          + " C31, S8"),
  PRED_1(
      "PRED-1",
      "CDC, NHSN 2022 rebaseline, CAUTI risk adjustment, tables 6 and 10 (restated) and 14"
          + " (published); exponential and catheter days (from memory)"),
  CHART_U(
      "CHART-U",
      "Montgomery, Introduction to Statistical Quality Control, chapter 7, u chart (published),"
          + " rules K1, K2"),
  CHART_G(
      "CHART-G",
      "Provost and Murray 2011, pp. 228-229, g chart (restated, SigmaXL documentation), rules K3, K4,"
          + " K7; Minitab, G chart (published), rules K5, K6"),
  STEP_1(
      "STEP-1",
      "HICPAC 2009 II, aseptic insertion (from memory); the list of steps: common practice; the"
          + " measure is own"),
  REVIEW_1(
      "REVIEW-1",
      "AHRQ toolkit 2015, Appendix I, indication on each day of use (published); the hour is own"),
  DWELL_1(
      "DWELL-1",
      "calendar days with the insertion date as day 1: NHSN manual chapter 7 (restated); the measure"
          + " is own"),
  HOURS_1("HOURS-1", "own; what makes a flag be in force stands with the flag's own rule"),
  WINDOW_1(
      "WINDOW-1",
      "CDC, NHSN FAQs: Miscellaneous, infection window period (published); that the urine culture"
          + " sets it (from memory), rules P1, P2"),
  CULTURE_1(
      "CULTURE-1",
      "NHSN manual chapter 7, Table 1 (restated, Taiwan CDC); CDC, NHSN FAQs: UTI (published);"
          + " excluded organisms: IDWeek 2016, abstract 401 (published); which may be there beside a"
          + " bacterium (from memory), rules U7 to U11, U16"),
  FEVER_1(
      "FEVER-1",
      "NHSN manual chapter 7, Table 1, above 38.0 and below 36.0 degrees Celsius (restated, Taiwan"
          + " CDC), rules U3, U5; as charted (from memory), rule U6"),
  SYMPTOM_1(
      "SYMPTOM-1",
      "NHSN manual chapter 7, Table 1 and its notes: other causes, and symptoms with a catheter in"
          + " place (restated, Taiwan CDC), rules U1 to U3, U13, U14"),
  EVENT_1(
      "EVENT-1",
      "NHSN manual chapter 2, date of event (restated, Taiwan CDC), rule P3; recorded on the first"
          + " hospital day (published), rule P4"),
  SUTI_1A("SUTI-1A", "NHSN manual chapter 7, Table 1, SUTI 1a (restated, Taiwan CDC), rule U1"),
  SUTI_1B(
      "SUTI-1B",
      "NHSN manual chapter 7, Table 1, SUTI 1b (restated, Taiwan CDC), rule U2; age in completed"
          + " years is a reading of Indwell"),
  SUTI_2(
      "SUTI-2",
      "NHSN manual chapter 7, Table 1, SUTI 2 (restated, Taiwan CDC), rule U3; age in completed"
          + " years is a reading of Indwell"),
  ABUTI_1(
      "ABUTI-1",
      "NHSN manual chapter 7, Table 1, ABUTI (restated, Taiwan CDC), rule U4; the second route for"
          + " blood is not worked out"),
  POA_1(
      "POA-1",
      "CDC, NHSN FAQs: Miscellaneous, present on admission (published), rule P4; NHSN manual chapter"
          + " 2, January 2019 (published), rule P5"),
  REPEAT_1(
      "REPEAT-1",
      "CDC, NHSN FAQs: Miscellaneous, 14 days from the date of event (published); one timeframe for"
          + " all urinary criteria within a stay (from memory), rules P6 to P8"),
  SECOND_1(
      "SECOND-1",
      "NHSN manual chapter 2, infection window with repeat timeframe (from memory); 14 to 17 days"
          + " (derived), rules P9, P11"),
  DEVICE_1(
      "DEVICE-1",
      "NHSN manual chapter 7, Definitions: an event on an eligible date (restated, Taiwan CDC), rules"
          + " E2, E3, E8"),
  PROC_1(
      "PROC-1",
      "CMS178 versions 4 to 6, catheter removed on postoperative day 1 or 2 (published; the measure"
          + " is retired)");

  private final String id;
  private final String source;

  RuleId(String id, String source) {
    this.id = id;
    this.source = source;
  }

  /** The number in {@code docs/rules.md}. */
  public String id() {
    return id;
  }

  /** Where the rule comes from. */
  public String source() {
    return source;
  }
}
