package indwell.web.fhir;

import java.util.List;
import java.util.stream.Collectors;

/**
 * Resources as another system keeps them: with ids and identifiers of its own, and stays that name
 * wards and no movements. One a line.
 */
final class EhrResources {
  private EhrResources() {}

  static String patient(String id) {
    return """
        {"resourceType":"Patient","id":"%s","identifier":[{"system":"urn:ehr:mrn","value":"MRN-%s"}]}"""
        .formatted(id, id);
  }

  /** A finished stay in ward Med of one entry; of class IMP. */
  static String stay(String id, String patient, String start, String end) {
    return stay(id, patient, "finished", "IMP", start, end, ward("Med", start, end));
  }

  /**
   * @param end nothing while it goes on
   */
  static String stay(
      String id,
      String patient,
      String status,
      String ofClass,
      String start,
      String end,
      String... wards) {
    return """
        {"resourceType":"Encounter","id":"%s","identifier":[{"system":"urn:ehr:visit","value":"V-%s"}],\
        "status":"%s","class":{"system":"http://terminology.hl7.org/CodeSystem/v3-ActCode",\
        "code":"%s"},"subject":{"reference":"%s"},"period":{"start":"%s"%s},"location":[%s]}"""
        .formatted(id, id, status, ofClass, patient, start, end(end), String.join(",", wards));
  }

  /** A ward entry; the end is nothing while it goes on. */
  static String ward(String location, String start, String end) {
    return entry("wa", location, start, end);
  }

  static String entry(String physicalType, String location, String start, String end) {
    return """
        {"location":{"reference":"Location/%s"},"status":"%s","physicalType":{"coding":[{"system":\
        "http://terminology.hl7.org/CodeSystem/location-physical-type","code":"%s"}]},\
        "period":{"start":"%s"%s}}"""
        .formatted(location, end.isEmpty() ? "active" : "completed", physicalType, start, end(end));
  }

  private static String end(String end) {
    return end.isEmpty() ? "" : ",\"end\":\"" + end + "\"";
  }

  static String device(String id, String patient) {
    return """
        {"resourceType":"Device","id":"%s","identifier":[{"system":"urn:ehr:device","value":"D-%s"}],\
        "status":"active","type":{"coding":[{"system":"http://snomed.info/sct","code":"23973005"}]},\
        "patient":{"reference":"%s"}}"""
        .formatted(id, id, patient);
  }

  static String insertion(String id, String patient, String stay, String device, String at) {
    return """
        {"resourceType":"Procedure","id":"%s","extension":[{"url":\
        "https://indwell.example/fhir/StructureDefinition/catheter-placement","extension":[\
        {"url":"route","valueCode":"urethral"},{"url":"drainage","valueCode":"bag"},\
        {"url":"sizeCh","valueQuantity":{"value":14,"unit":"Ch","system":\
        "http://unitsofmeasure.org","code":"[Ch]"}}]}],\
        "identifier":[{"system":"urn:ehr:procedure","value":"P-%s"}],"status":"completed",\
        "code":{"coding":[{"system":"http://snomed.info/sct","code":"410024004"}]},\
        "subject":{"reference":"%s"},"encounter":{"reference":"%s"},"performedDateTime":"%s",\
        "reasonCode":[{"coding":[{"system":\
        "https://indwell.example/fhir/CodeSystem/catheter-indication","code":"acute-retention"}]}],\
        "bodySite":[{"coding":[{"system":"http://snomed.info/sct","code":"89837001"}]}],\
        "focalDevice":[{"action":{"coding":[{"system":"http://hl7.org/fhir/device-action",\
        "code":"implanted"}]},"manipulated":{"reference":"%s"}}]}"""
        .formatted(id, id, patient, stay, at, device);
  }

  static String removal(String id, String patient, String device, String at) {
    return """
        {"resourceType":"Procedure","id":"%s","identifier":[{"system":"urn:ehr:procedure",\
        "value":"P-%s"}],"status":"completed","code":{"coding":[{"system":"http://snomed.info/sct",\
        "code":"43748006"}]},"subject":{"reference":"%s"},"performedDateTime":"%s",\
        "focalDevice":[{"action":{"coding":[{"system":"http://hl7.org/fhir/device-action",\
        "code":"explanted"}]},"manipulated":{"reference":"%s"}}]}"""
        .formatted(id, id, patient, at, device);
  }

  /** The use of a catheter; the end is nothing while it goes on. */
  static String use(
      String id, String patient, String procedure, String device, String start, String end) {
    return """
        {"resourceType":"DeviceUseStatement","id":"%s","identifier":[{"system":"urn:ehr:use",\
        "value":"U-%s"}],"status":"%s","subject":{"reference":"%s"},"derivedFrom":[{"reference":\
        "%s"}],"timingPeriod":{"start":"%s"%s},"device":{"reference":"%s"},"bodySite":{"coding":[\
        {"system":"http://snomed.info/sct","code":"89837001"}]}}"""
        .formatted(
            id,
            id,
            end.isEmpty() ? "active" : "completed",
            patient,
            procedure,
            start,
            end(end),
            device);
  }

  /** A ward that has a code of its own beside its id. */
  static String location(String id, String code) {
    return """
        {"resourceType":"Location","id":"%s","identifier":[{"system":"urn:ehr:ward","value":"%s"}],\
        "status":"active","name":"Medical ward","mode":"instance","type":[{"coding":[{"system":\
        "https://www.cdc.gov/nhsn/cdaportal/terminology/codesystem/hsloc.html","code":"1060-3"}]}],\
        "physicalType":{"coding":[{"system":\
        "http://terminology.hl7.org/CodeSystem/location-physical-type","code":"wa"}]}}"""
        .formatted(id, code);
  }

  /** The story of one patient: in ward Med from 1 to 6 March, with a catheter from 2 to 4 March. */
  static List<String> story() {
    return List.of(
        patient("1"),
        stay("9", "Patient/1", "2026-03-01T10:00:00Z", "2026-03-06T10:00:00Z"),
        device("5", "Patient/1"),
        insertion("7", "Patient/1", "Encounter/9", "Device/5", "2026-03-02T10:00:00Z"),
        removal("8", "Patient/1", "Device/5", "2026-03-04T10:00:00Z"));
  }

  /** A Bundle of type collection; an entry that is no resource by itself is an entry as a whole. */
  static String bundle(String type, List<String> resources) {
    return resources.stream()
        .map(one -> one.startsWith("{\"resourceType\"") ? "{\"resource\":" + one + "}" : one)
        .collect(
            Collectors.joining(
                ",", "{\"resourceType\":\"Bundle\",\"type\":\"" + type + "\",\"entry\":[", "]}"));
  }
}
