package indwell.web.fhir;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Collections;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** Bundles by the words that the pages of transaction and batch have for them. */
final class SentBundles {
  private static final ObjectMapper JSON = new ObjectMapper();
  private static final String PATIENT = "Patient?identifier=urn:example:mrn|4711";
  private static final Pattern WEIGHT =
      Pattern.compile(
          "a weight (W-\\d|without identifier)(?: ?(of|in|twice|and|at|with|without|by)? ?(.*))?");

  private final String type;
  private final FhirServer server;

  SentBundles(String type, FhirServer server) {
    this.type = type;
    this.server = server;
  }

  /** The example of the page. */
  static String insertion() throws IOException {
    return Files.readString(Path.of("docs/api/transaction-insertion.json"));
  }

  /** The body that the words stand for. */
  String body(String words) throws Exception {
    Matcher weight = WEIGHT.matcher(words);
    if (weight.matches()) {
      return weights(weight.group(1), words);
    }
    return switch (words) {
      case "a Bundle by implicit rules" ->
          "{\"resourceType\":\"Bundle\",\"implicitRules\":\"https://other.example/rules\",\"type\":\""
              + type
              + "\"}";
      case "the insertion" -> insertion();
      case "the insertion with a Device of size 16" -> insertion(2, "\"value\":14", "\"value\":16");
      case "the insertion with a balloon volume of 9 mL" ->
          insertion(5, "\"value\":10", "\"value\":9");
      case "the balloon volume corrected to 9 mL, version 1" -> corrected("9");
      case "the balloon volume corrected to 8 mL, version 1" -> corrected("8");
      case "the patient by another number alone" ->
          bundle(
              post(
                  "Patient",
                  "{\"resourceType\":\"Patient\",\"identifier\":[%s]}"
                      .formatted(identifier("urn:example:mrn", "4712"))));
      case "a Medication" -> bundle(post("Medication", "{\"resourceType\":\"Medication\"}"));
      case "a Procedure of another kind" ->
          bundle(post("Procedure", "{\"resourceType\":\"Procedure\",\"status\":\"completed\"}"));
      case "a read of what is not there" -> bundle(bare("GET", "Patient/unknown"));
      case "the overdue flags and the statement of capabilities" ->
          bundle(bare("GET", "$overdue"), bare("GET", "metadata"));
      case "the same fullUrl twice" ->
          bundle(
              entry("urn:uuid:1", "", "GET", "Patient", ""),
              entry("urn:uuid:1", "", "GET", "Device", ""));
      case "an entry without request" -> bundle("{\"fullUrl\":\"urn:uuid:1\"}");
      case "a read of the patients and a HEAD" ->
          bundle(bare("GET", "Patient"), bare("HEAD", "Patient"));
      case "a PATCH and a read of the patients" ->
          bundle(bare("PATCH", "Patient/1"), bare("GET", "Patient"));
      case "a read of the patients and one without URL" ->
          bundle(bare("GET", "Patient"), bare("GET", ""));
      case "a read of the patients and a DELETE with ifNoneMatch" ->
          bundle(
              bare("GET", "Patient"),
              entry("", "", "DELETE", "Procedure/1", ",\"ifNoneMatch\":\"W/1\""));
      case "an entry that is an array" -> bundle("[]");
      case "a Bundle whose entry is an object" ->
          "{\"resourceType\":\"Bundle\",\"type\":\"%s\",\"entry\":{}}".formatted(type);
      case "a Bundle with entries instead of entry" ->
          "{\"resourceType\":\"Bundle\",\"type\":\"%s\",\"entries\":[]}".formatted(type);
      case "a Bundle of type collection" -> "{\"resourceType\":\"Bundle\",\"type\":\"collection\"}";
      case "1001 entries" ->
          bundle(Collections.nCopies(1001, bare("GET", "Patient")).toArray(String[]::new));
      case "the Device deleted" -> bundle(bare("DELETE", id("Device")));
      case "the insertion deleted" -> bundle(bare("DELETE", id("Procedure")));
      case "no Bundle" -> "{\"resourceType\":\"Patient\"}";
      case "no JSON" -> "{";
      default -> throw new IllegalArgumentException(words);
    };
  }

  private String weights(String name, String words) {
    String at = at(words);
    String unit = words.endsWith(" in pounds") && !words.contains(" and ") ? "[lb_av]" : "kg";
    String subject =
        words.endsWith("an entry that is not there")
            ? "urn:uuid:nowhere"
            : words.endsWith("that is not known") ? PATIENT + "2" : PATIENT;
    String weight = modified(words, weight(name, at, unit, subject));
    if (words.endsWith("twice")) {
      return bundle(post("Observation", weight), post("Observation", weight));
    }
    if (words.endsWith("and one in pounds")) {
      return bundle(
          post("Observation", weight), post("Observation", weight("W-9", at, "[lb_av]", PATIENT)));
    }
    if (words.endsWith("at the id of another") || words.endsWith("without id by PUT")) {
      String own = words.endsWith("by PUT") ? "" : "\"id\":\"another\",";
      return bundle(
          entry("", weight.replaceFirst("[{]", "{" + own), "PUT", "Observation/another", ""));
    }
    String condition =
        words.endsWith(", if none exists")
            ? ",\"ifNoneExist\":\"identifier=urn:example:chart|" + name + "\""
            : words.endsWith("the name x exists") ? ",\"ifNoneExist\":\"name=x\"" : "";
    return bundle(entry("", weight, "POST", "Observation", condition));
  }

  private static String modified(String words, String weight) {
    String modifier = "";
    if (words.endsWith(" with a modifier extension")) {
      modifier =
          "\"modifierExtension\":[{\"url\":\"https://other.example/no\",\"valueBoolean\":true}],";
    } else if (words.endsWith(" by implicit rules")) {
      modifier = "\"implicitRules\":\"https://other.example/rules\",";
    }
    return weight.replaceFirst("\"status\"", modifier + "\"status\"");
  }

  private static String at(String words) {
    if (words.endsWith("of a day alone")) {
      return "2026-03-02";
    }
    return words.endsWith("of tomorrow") ? "2026-03-11T12:00:00Z" : "2026-03-02T08:00:00Z";
  }

  static String weight(String name, String at, String unit, String subject) {
    String identifier =
        name.startsWith("W")
            ? "\"identifier\":[" + identifier("urn:example:chart", name) + "],"
            : "";
    return """
        {"resourceType":"Observation",%s"status":"final","category":[{"coding":[{"system":
        "http://terminology.hl7.org/CodeSystem/observation-category","code":"vital-signs"}]}],
        "code":{"coding":[{"system":"http://loinc.org","code":"29463-7"}]},
        "subject":{"reference":"%s"},"effectiveDateTime":"%s",
        "valueQuantity":{"value":70,"unit":"%s","system":"http://unitsofmeasure.org","code":"%s"}}"""
        .formatted(identifier, subject, at, unit, unit);
  }

  private String insertion(int entry, String from, String to) throws IOException {
    ObjectNode bundle = (ObjectNode) JSON.readTree(insertion());
    ObjectNode changed = (ObjectNode) bundle.at("/entry/" + entry);
    String resource = changed.get("resource").toString();
    if (!resource.contains(from)) {
      throw new IllegalArgumentException(from);
    }
    changed.set("resource", JSON.readTree(resource.replace(from, to)));
    return bundle.toString();
  }

  private String corrected(String millilitres) throws Exception {
    JsonNode found = JSON.readTree(server.get("/Observation").body());
    for (JsonNode entry : found.get("entry")) {
      String resource = entry.get("resource").toString();
      if (resource.contains("balloon-volume")) {
        String id = entry.at("/resource/id").asText();
        return bundle(
            entry(
                "",
                resource.replaceFirst(
                    "\"value\":(10|9),\"unit\"", "\"value\":" + millilitres + ",\"unit\""),
                "PUT",
                "Observation/" + id,
                ",\"ifMatch\":\"W/\\\"1\\\"\""));
      }
    }
    throw new IllegalStateException("No balloon volume");
  }

  private String id(String type) throws Exception {
    JsonNode found = JSON.readTree(server.get("/" + type).body());
    return type + "/" + found.at("/entry/0/resource/id").asText();
  }

  private static String identifier(String system, String value) {
    return "{\"system\":\"%s\",\"value\":\"%s\"}".formatted(system, value);
  }

  private static String bare(String method, String url) {
    return entry("", "", method, url, "");
  }

  private static String post(String url, String resource) {
    return entry("", resource, "POST", url, "");
  }

  private static String entry(
      String fullUrl, String resource, String method, String url, String conditions) {
    return "{%s%s\"request\":{\"method\":\"%s\",\"url\":\"%s\"%s}}"
        .formatted(
            fullUrl.isEmpty() ? "" : "\"fullUrl\":\"" + fullUrl + "\",",
            resource.isEmpty() ? "" : "\"resource\":" + resource + ",",
            method,
            url,
            conditions);
  }

  private String bundle(String... entries) {
    return "{\"resourceType\":\"Bundle\",\"type\":\"%s\",\"entry\":[%s]}"
        .formatted(type, String.join(",", entries));
  }
}
