package indwell.fhir.map;

import indwell.domain.event.Ward;
import indwell.fhir.term.Extensions;
import java.time.LocalDate;
import java.util.Optional;
import org.hl7.fhir.r4.model.Coding;
import org.hl7.fhir.r4.model.DateTimeType;
import org.hl7.fhir.r4.model.Extension;
import org.hl7.fhir.r4.model.Period;

/**
 * What a report is about: a ward and dates within one calendar month.
 *
 * @param kind what kind of ward it is for surveillance, if it says so
 * @param start first date
 * @param endInclusive last date
 */
public record ReportScope(
    Ward ward, Optional<Coding> kind, LocalDate start, LocalDate endInclusive) {

  /**
   * @throws IllegalArgumentException if the dates lie in two months
   */
  public ReportScope {
    if (!start.withDayOfMonth(1).equals(endInclusive.withDayOfMonth(1))) {
      throw new IllegalArgumentException(
          "A report covers one calendar month, not " + start + " to " + endInclusive);
    }
  }

  Period period() {
    return new Period()
        .setStartElement(new DateTimeType(start.toString()))
        .setEndElement(new DateTimeType(endInclusive.toString()));
  }

  Extension extension() {
    Extension extension = new Extension(Extensions.REPORT_WARD);
    extension.addExtension("ward", ResourceId.ward(ward).reference());
    kind.ifPresent(coding -> extension.addExtension("kind", coding.copy()));
    return extension;
  }
}
