package indwell.web.fhir;

import indwell.fhir.term.Profiles;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;

/** Our profiles by the resource type that they constrain. */
final class OwnProfiles {
  static final Map<String, List<String>> BY_TYPE =
      new TreeMap<>(
          Map.ofEntries(
              Map.entry("Patient", List.of(Profiles.PATIENT)),
              Map.entry("Location", List.of(Profiles.WARD)),
              Map.entry("Encounter", List.of(Profiles.STAY)),
              Map.entry("Device", List.of(Profiles.DEVICE)),
              Map.entry("DeviceUseStatement", List.of(Profiles.USE)),
              Map.entry(
                  "Procedure",
                  List.of(
                      Profiles.INSERTION,
                      Profiles.REMOVAL,
                      Profiles.EXCHANGE,
                      Profiles.SECUREMENT_CHANGE,
                      Profiles.CARE_CHECK)),
              Map.entry(
                  "Observation",
                  List.of(
                      Profiles.CARE_ITEM,
                      Profiles.BALLOON_VOLUME,
                      Profiles.INITIAL_DRAINAGE,
                      Profiles.NEED_REVIEW,
                      Profiles.URINE_OUTPUT,
                      Profiles.URINE_RATE,
                      Profiles.BODY_WEIGHT)),
              Map.entry("Specimen", List.of(Profiles.SPECIMEN)),
              Map.entry("Provenance", List.of(Profiles.RECORD_PROVENANCE)),
              Map.entry("Flag", List.of(Profiles.FLAG)),
              Map.entry("AuditEvent", List.of(Profiles.AUDIT_EVENT)),
              Map.entry("Group", List.of(Profiles.WARD_GROUP)),
              Map.entry("List", List.of(Profiles.COUNTED_PATIENTS)),
              Map.entry(
                  "MeasureReport",
                  List.of(
                      Profiles.DEVICE_DAY_REPORT,
                      Profiles.DEVICE_DAY_LIST_REPORT,
                      Profiles.DEVICE_DAY_PATIENT_REPORT))));

  private OwnProfiles() {}
}
