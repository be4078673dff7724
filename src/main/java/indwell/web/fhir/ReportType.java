package indwell.web.fhir;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;

/**
 * Which reports {@code $device-days} answers with. R4 spells them in two ways, which mean the same.
 *
 * <p>Source: https://hl7.org/fhir/R4/valueset-measure-report-type.html and
 * https://hl7.org/fhir/R4/measure-operation-evaluate-measure.html
 */
enum ReportType {
  /** The sums of each ward and month. */
  SUMMARY("summary", "population"),
  /** The sums, Lists of the patients behind them, and the report of each patient. */
  SUBJECT_LIST("subject-list", "subject-list"),
  /** The reports of one patient. */
  INDIVIDUAL("individual", "subject");

  static final String NAME = "report-type";

  private final String code;
  private final String ofEvaluation;

  ReportType(String code, String ofEvaluation) {
    this.code = code;
    this.ofEvaluation = ofEvaluation;
  }

  /**
   * Reads the parameter.
   *
   * @throws FhirRefusal 400 for what is none of them
   */
  static ReportType of(OperationInput input) {
    Optional<String> given = input.text(NAME);
    if (given.isEmpty()) {
      return SUMMARY;
    }
    return Arrays.stream(values())
        .filter(one -> List.of(one.code, one.ofEvaluation).contains(given.get()))
        .findFirst()
        .orElseThrow(
            () ->
                FhirRefusal.badParameter(
                    NAME,
                    "Value "
                        + Shown.text(given.get())
                        + " of parameter "
                        + NAME
                        + " is not supported; expected summary, subject-list or individual."));
  }

  @Override
  public String toString() {
    return code;
  }
}
