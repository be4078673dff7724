package indwell.web.fhir;

import indwell.domain.event.Ward;
import indwell.domain.refusal.IssueCode;
import indwell.usecase.DeviceDays.Question;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * What {@code $device-days} is asked.
 *
 * @param why whether reports name the events that made somebody count
 */
record DeviceDayQuestion(Question counted, ReportType type, boolean why) {
  private static final String SUBJECT = "subject";

  /** The parameters. */
  static final Set<String> NAMES = Set.of("start", "end", "why", ReportType.NAME, SUBJECT);

  private static final Pattern PATIENT = Pattern.compile("(Patient/)?([A-Za-z0-9\\-.]{1,64})");

  /**
   * Reads it.
   *
   * @throws FhirRefusal 400 for parameters that do not go together
   */
  static DeviceDayQuestion of(FhirRequest request, OperationInput input, Optional<Ward> ward) {
    ReportType type = ReportType.of(input);
    Optional<String> patient = input.text(SUBJECT).map(text -> patient(request.base(), text));
    if (type == ReportType.INDIVIDUAL && patient.isEmpty()) {
      throw FhirRefusal.of(
          400,
          IssueCode.MISSING_PARAMETER,
          SUBJECT,
          "Parameter subject is missing; expected the patient that the report is about, such as"
              + " Patient/abc.");
    }
    if (type != ReportType.INDIVIDUAL && patient.isPresent()) {
      throw FhirRefusal.badParameter(
          SUBJECT,
          "Parameter subject does not go with report-type "
              + type
              + "; expected it with individual.");
    }
    if (type != ReportType.SUMMARY && request.format().equals(Negotiation.CSV)) {
      throw FhirRefusal.badParameter(
          ReportType.NAME,
          "A report of type "
              + type
              + " is not given as text/csv; expected application/fhir+json.");
    }
    Question counted = new Question(ward, input.date("start"), input.date("end"), patient);
    return new DeviceDayQuestion(counted, type, input.flag("why"));
  }

  /** Whether the answer needs to know who counted. */
  boolean needsPatients() {
    return why || type != ReportType.SUMMARY;
  }

  private static String patient(String base, String reference) {
    String root = base + "/";
    Matcher matcher =
        PATIENT.matcher(
            reference.startsWith(root) ? reference.substring(root.length()) : reference);
    if (!matcher.matches()) {
      throw FhirRefusal.badParameter(
          SUBJECT,
          "Value "
              + Shown.text(reference)
              + " of parameter subject is no patient; expected one such as Patient/abc.");
    }
    return matcher.group(2);
  }
}
