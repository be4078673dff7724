package indwell.fhir.map;

import indwell.domain.event.BusinessId;
import java.util.Optional;
import org.hl7.fhir.r4.model.MeasureReport;
import org.hl7.fhir.r4.model.Organization;
import org.hl7.fhir.r4.model.Reference;

/**
 * The facility that reports.
 *
 * @param name for people
 * @param identifier what those who receive reports know it by
 * @param form how a report refers to it
 */
public record Reporter(Optional<String> name, Optional<BusinessId> identifier, Form form) {
  private static final String CONTAINED_ID = "facility";

  /** How a report refers to its facility. */
  public sealed interface Form permits Contained, Logical, Literal {}

  /** By an Organization within the report. */
  public record Contained() implements Form {}

  /** By its identifier alone. */
  public record Logical() implements Form {}

  /**
   * By the address of an Organization elsewhere.
   *
   * @param url absolute
   */
  public record Literal(String url) implements Form {}

  public Reporter {
    if (form instanceof Logical && identifier.isEmpty()) {
      throw new IllegalArgumentException("A logical reference needs an identifier.");
    }
    if (form instanceof Contained && name.isEmpty() && identifier.isEmpty()) {
      throw new IllegalArgumentException("An Organization needs a name or an identifier.");
    }
  }

  void nameIn(MeasureReport report) {
    if (form instanceof Contained) {
      report.addContained(organization());
      report.setReporter(new Reference("#" + CONTAINED_ID));
      return;
    }
    Reference facility = new Reference();
    if (form instanceof Literal literal) {
      facility.setReference(literal.url());
    }
    identifier.map(Parts::identifier).ifPresent(facility::setIdentifier);
    name.ifPresent(facility::setDisplay);
    report.setReporter(facility);
  }

  private Organization organization() {
    Organization organization = new Organization();
    organization.setId(CONTAINED_ID);
    identifier.map(Parts::identifier).ifPresent(organization::addIdentifier);
    name.ifPresent(organization::setName);
    return organization;
  }
}
