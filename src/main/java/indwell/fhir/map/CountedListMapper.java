package indwell.fhir.map;

import indwell.domain.timeline.CountedPatient;
import indwell.fhir.term.Hl7;
import indwell.fhir.term.Ids;
import indwell.fhir.term.Profiles;
import java.util.List;
import org.hl7.fhir.r4.model.ListResource;
import org.hl7.fhir.r4.model.ListResource.ListMode;
import org.hl7.fhir.r4.model.ListResource.ListStatus;

/**
 * The patients behind a sum: a List of their reports, one a patient.
 *
 * <p>Source: https://hl7.org/fhir/R4/measurereport-definitions.html, subjectResults.
 */
public final class CountedListMapper {
  private static final String TYPE = "List";

  private CountedListMapper() {}

  static ResourceId id(ReportScope scope, Population population) {
    return new ResourceId(
        TYPE,
        Ids.derive(
            TYPE,
            population.code(),
            scope.ward().code(),
            scope.start().toString(),
            scope.endInclusive().toString()));
  }

  /**
   * The List of a sum.
   *
   * @param counted the patients of the ward and dates; those without days of this kind are left out
   */
  public static ListResource of(
      ReportScope scope, Population population, List<CountedPatient> counted) {
    ListResource list =
        Parts.claim(new ListResource(), id(scope, population), Profiles.COUNTED_PATIENTS);
    list.setStatus(ListStatus.CURRENT);
    list.setMode(ListMode.SNAPSHOT);
    list.setTitle(population.title());
    list.setSubject(ResourceId.ward(scope.ward()).reference());
    for (CountedPatient patient : counted) {
      if (population.of(patient.days()) > 0) {
        list.addEntry()
            .setItem(MeasureReportMapper.individualId(scope, patient.patient()).reference());
      }
    }
    if (!list.hasEntry()) {
      list.setEmptyReason(Hl7.NOBODY.concept());
    }
    return list;
  }
}
