package indwell.fhir.search;

import static indwell.fhir.search.SearchParameter.date;
import static indwell.fhir.search.SearchParameter.reference;
import static indwell.fhir.search.SearchParameter.string;
import static indwell.fhir.search.SearchParameter.token;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** The search parameters of every type that can be searched. */
public final class SearchParameters {
  /** The logical id. */
  public static final String ID = "_id";

  /** When the newest version was written. */
  public static final String LAST_UPDATED = "_lastUpdated";

  public static final String IDENTIFIER = "identifier";
  public static final String PATIENT = "patient";
  public static final String SUBJECT = "subject";

  private static final SearchParameter IDENTIFIERS = token(IDENTIFIER);
  private static final SearchParameter STATUS = token("status");
  private static final SearchParameter CODE = token("code");
  private static final SearchParameter CATEGORY = token("category");
  private static final SearchParameter TYPE = token("type");
  private static final SearchParameter DATE = date("date");
  private static final SearchParameter ENCOUNTER = reference("encounter", "Encounter");
  private static final SearchParameter OF_PATIENT = reference(PATIENT, "Patient");
  private static final SearchParameter OF_SUBJECT = reference(SUBJECT, "Patient");
  private static final SearchParameter LOCATION = reference("location", "Location");

  private static final Map<String, List<SearchParameter>> BY_TYPE =
      Map.of(
          "Patient",
          List.of(IDENTIFIERS),
          "Location",
          List.of(IDENTIFIERS, string("name"), STATUS, TYPE),
          "Encounter",
          List.of(
              IDENTIFIERS,
              OF_PATIENT,
              OF_SUBJECT,
              STATUS,
              token("class"),
              DATE,
              LOCATION,
              date("location-period")),
          "Device",
          List.of(IDENTIFIERS, OF_PATIENT, STATUS, TYPE),
          "DeviceUseStatement",
          List.of(
              IDENTIFIERS,
              OF_PATIENT,
              OF_SUBJECT,
              reference("device", "Device"),
              STATUS.own("catheter-use-status"),
              date("period").own("catheter-use-period")),
          "Procedure",
          List.of(
              IDENTIFIERS,
              OF_PATIENT,
              OF_SUBJECT,
              STATUS,
              CODE,
              token("reason-code"),
              DATE,
              ENCOUNTER,
              LOCATION,
              reference("focal-device", "Device").own("catheter-focal-device")),
          "Observation",
          List.of(
              IDENTIFIERS,
              OF_PATIENT,
              OF_SUBJECT,
              STATUS,
              CATEGORY,
              CODE,
              DATE,
              ENCOUNTER,
              reference("focus", "Device"),
              reference("part-of", "Procedure"),
              reference("derived-from", "Observation")),
          "Specimen",
          List.of(IDENTIFIERS, OF_PATIENT, OF_SUBJECT, STATUS, TYPE, date("collected")),
          "Provenance",
          List.of(
              OF_PATIENT,
              reference(
                  "target",
                  "Procedure",
                  "Observation",
                  "Specimen",
                  "Encounter",
                  "Device",
                  "DeviceUseStatement",
                  "Patient",
                  "Location"),
              date("recorded"),
              date("when")),
          "Flag",
          List.of(
              IDENTIFIERS,
              OF_PATIENT,
              OF_SUBJECT,
              STATUS.own("catheter-flag-status"),
              CATEGORY.own("catheter-flag-category"),
              CODE.own("catheter-flag-code"),
              DATE,
              reference("focus-device", "Device").own("catheter-flag-focus-device")));

  /** Whatever there is that others refer to can have been asked for. */
  private static final List<SearchParameter> OF_AUDIT_EVENT =
      List.of(
          OF_PATIENT,
          DATE,
          TYPE,
          token("subtype"),
          token("action"),
          token("outcome"),
          token("altid"),
          string("address"),
          reference(
              "entity",
              "Patient",
              "Device",
              "DeviceUseStatement",
              "Encounter",
              "Flag",
              "Group",
              "Location",
              "Observation",
              "Procedure",
              "Provenance",
              "Specimen",
              "AuditEvent"));

  private static final List<SearchParameter> OF_ALL = List.of(token(ID), date(LAST_UPDATED));

  /** A Group is made anew each time, so that it was never last updated. */
  private static final List<SearchParameter> OF_GROUP = List.of(token(ID), IDENTIFIERS);

  private SearchParameters() {}

  /** All parameters that select resources of the type. */
  public static List<SearchParameter> of(String type) {
    if (type.equals("Group")) {
      return OF_GROUP;
    }
    List<SearchParameter> all = new ArrayList<>(OF_ALL);
    all.addAll(type.equals("AuditEvent") ? OF_AUDIT_EVENT : BY_TYPE.getOrDefault(type, List.of()));
    return all;
  }

  /** The parameter of that name. */
  public static Optional<SearchParameter> find(String type, String name) {
    return of(type).stream().filter(one -> one.name().equals(name)).findFirst();
  }
}
