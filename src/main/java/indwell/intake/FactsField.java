package indwell.intake;

import java.util.Locale;

/** What the facts of a ward and month may say; the order is that of the table's columns. */
enum FactsField {
  WARD("ward"),
  MONTH("month"),
  MANUAL_PATIENT_DAYS("manualPatientDays"),
  MANUAL_CATHETER_DAYS("manualCatheterDays"),
  SAMPLED_WEEKDAY("sampledWeekday"),
  SAMPLED_PATIENT_DAYS("sampledPatientDays"),
  SAMPLED_CATHETER_DAYS("sampledCatheterDays"),
  SAMPLED_DATES("sampledDates"),
  CONFIRMED_CAUTI("confirmedCauti"),
  CAUTI_DATES("cautiDates"),
  PREDICTED_CAUTI("predictedCauti"),
  PREDICTED_DEVICE_DAYS("predictedDeviceDays"),
  BASELINE("baseline");

  private final String json;

  FactsField(String json) {
    this.json = json;
  }

  /** Its name in an object. */
  String json() {
    return json;
  }

  /** Its name as a column, {@code manual_patient_days}. */
  String column() {
    return name().toLowerCase(Locale.ROOT);
  }

  /** Whether it is a number. */
  boolean isNumber() {
    return switch (this) {
      case WARD, MONTH, SAMPLED_WEEKDAY, SAMPLED_DATES, CAUTI_DATES, BASELINE -> false;
      default -> true;
    };
  }

  /** Whether several values stand in it. */
  boolean isList() {
    return this == SAMPLED_DATES || this == CAUTI_DATES;
  }
}
