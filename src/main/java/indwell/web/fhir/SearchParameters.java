package indwell.web.fhir;

import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.SortedSet;
import java.util.TreeSet;
import org.hl7.fhir.r4.model.Enumerations.SearchParamType;

/** Which search parameters a resource type has; those of R4 with the names and types of R4. */
final class SearchParameters {
  static final String ID = "_id";
  static final String IDENTIFIER = "identifier";
  static final String PATIENT = "patient";
  static final String SUBJECT = "subject";
  static final String COUNT = "_count";
  static final String SUMMARY = "_summary";

  /** Our own: where the next page starts, in next links only. */
  static final String AFTER = "_after";

  private static final Set<String> WITHOUT_PATIENT = Set.of("Location", "Patient");
  private static final Set<String> WITHOUT_SUBJECT =
      Set.of("Device", "Location", "Patient", "Provenance");

  private SearchParameters() {}

  /** The parameters that select resources. */
  static List<String> selecting(String type) {
    List<String> all = new ArrayList<>(List.of(ID));
    if (!type.equals("Provenance")) {
      all.add(IDENTIFIER);
    }
    if (!WITHOUT_PATIENT.contains(type)) {
      all.add(PATIENT);
    }
    if (!WITHOUT_SUBJECT.contains(type)) {
      all.add(SUBJECT);
    }
    return all;
  }

  /** All parameters of a search over the type. */
  static SortedSet<String> all(String type) {
    SortedSet<String> all = new TreeSet<>(selecting(type));
    all.addAll(List.of(COUNT, SUMMARY, AFTER));
    return all;
  }

  static SearchParamType typeOf(String name) {
    return name.equals(PATIENT) || name.equals(SUBJECT)
        ? SearchParamType.REFERENCE
        : SearchParamType.TOKEN;
  }
}
