package indwell.blackbox;

import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.net.URLEncoder;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.Locale;
import java.util.stream.Stream;

/** Texts that occur nowhere else, and the events, bodies and addresses that say them. */
final class Canaries {
  static final String NUMBER = "Qz7Canary-Number";
  static final String NAME = "Qz7canary Name";
  static final String VOLUME = "1733.291";
  static final String BORN = "1931-07-19";
  static final String TOKEN = "eyJ.Qz7Canary-Token.sig";

  /** To the millisecond, so that it is the time of nothing else. */
  static final String TIME =
      Instant.now()
          .minus(2, ChronoUnit.HOURS)
          .truncatedTo(ChronoUnit.SECONDS)
          .plusMillis(219)
          .toString();

  /** What tells them, in small letters; all that are made up begin with {@code qz7}. */
  static final List<String> TEXTS = List.of("qz7", VOLUME);

  /** Those that are dates, in small letters. */
  static final List<String> DATES = List.of(TIME.toLowerCase(Locale.ROOT), BORN);

  /** Where the patient of the events is found. */
  static final String WHERE_FOUND = "/fhir/Patient?identifier=urn:canary%7C" + NUMBER;

  private static final String STAY = "Qz7Canary-Stay";
  private static final String CATHETER = "Qz7Canary-Catheter";

  private Canaries() {}

  /** Two that are taken: an admission and an insertion. */
  static List<String> goodEvents() {
    return List.of(admission("canary"), insertion("canary", "2"));
  }

  /** An insertion that is taken. */
  static String insertion(String source, String id) {
    String details =
        """
        {"catheterId":"%s","route":"urethral","sizeCh":16,"indication":"other",\
        "indicationText":"%s"}"""
            .formatted(CATHETER, NAME);
    return event(source, id, "catheter-inserted", details);
  }

  /** An admission that is taken. */
  static String admission(String source) {
    return event(source, "1", "patient-admitted", "{\"ward\":\"A-1\"}");
  }

  private static String event(String source, String id, String type, String details) {
    return """
        {"source":"%s","eventId":"%s","type":"%s","occurredAt":"%s",\
        "patient":{"system":"urn:canary","value":"%s"},\
        "encounter":{"system":"urn:canary:stay","value":"%s"},\
        "recorder":{"system":"urn:canary:staff","value":"%s"},"details":%s}"""
        .formatted(source, id, type, TIME, NUMBER, STAY, NAME, details);
  }

  /** The good events, and bodies with every kind of fault. */
  static List<String> bodies() {
    return Stream.of(goodEvents(), brokenEvents(), resources()).flatMap(List::stream).toList();
  }

  private static List<String> brokenEvents() {
    String good = insertion("canary", "2");
    return List.of(
        good.substring(0, good.length() - 1),
        good.replace("\"details\"", "\"" + NAME + "\""),
        good.replace("\"sizeCh\":16", "\"sizeCh\":" + VOLUME),
        good.replace(TIME, "2026-13-45 " + NAME),
        good.replace("urn:canary\"", NAME + "\""),
        "{\"" + NAME + "\":\"" + NUMBER + "\",\"" + NAME + "\":1}",
        "\"" + NAME + "\"",
        NAME,
        "[" + good + "," + insertion("canary", "3") + "]",
        "[" + good + "," + NAME + "]",
        good + "\n" + NAME + "\n",
        "x=" + encoded(NAME));
  }

  private static List<String> resources() {
    return List.of(
        "{\"resourceType\":\"%s\"}".formatted(NAME.replace(' ', '-')),
        """
        {"resourceType":"Patient","name":[{"family":"%s"}],"x":1}"""
            .formatted(NAME),
        """
        {"resourceType":"Patient","birthDate":"%s","name":[{"family":"%s"}]}"""
            .formatted(BORN, NAME),
        """
        {"resourceType":"Bundle","type":"transaction","entry":[{"resource":\
        {"resourceType":"Observation","valueQuantity":{"value":%s},\
        "subject":{"reference":"Patient?identifier=urn:canary|%s"}},\
        "request":{"method":"POST","url":"Observation"}}]}"""
            .formatted(VOLUME, NUMBER),
        """
        {"resourceType":"Parameters","parameter":[{"name":"%s","valueString":"%s"}]}"""
            .formatted(NAME, NUMBER));
  }

  /** The id that the service gave the patient of the events. */
  static String patientId(RunningService service) throws IOException {
    return new ObjectMapper()
        .readTree(service.get(WHERE_FOUND).body())
        .at("/entry/0/resource/id")
        .asText();
  }

  /**
   * Addresses of every route, and some that are none.
   *
   * @param patient the id of one, or anything else
   */
  static List<String> addresses(String patient) {
    return Stream.of(ofEventsAndFhir(patient), ofOperations(patient), ofTheRest(patient))
        .flatMap(List::stream)
        .toList();
  }

  private static List<String> ofEventsAndFhir(String patient) {
    String value = encoded("urn:canary|" + NUMBER);
    String name = encoded(NAME);
    return List.of(
        "/events",
        "/events?patient=" + value,
        "/fhir",
        "/fhir/metadata?x=" + name,
        "/fhir/_history",
        "/fhir/Patient?identifier=" + value + "&birthdate=" + BORN,
        "/fhir/Patient?" + name + "=1",
        "/fhir/Patient/" + NUMBER,
        "/fhir/Patient/" + NUMBER + "/_history/1",
        "/fhir/Patient/" + patient,
        "/fhir/Patient/" + patient + "/_history",
        "/fhir/Patient/" + patient + "/_history/1",
        "/fhir/Patient/" + name,
        "/fhir/Patient/_search",
        "/fhir/Patient/_history?_since=" + name,
        "/fhir/Procedure?patient=" + patient + "&date=" + TIME,
        "/fhir/Procedure?patient.identifier=" + value + "&date=" + TIME,
        "/fhir/Procedure?identifier=" + value,
        "/fhir/Procedure/" + NUMBER,
        "/fhir/Observation?date=" + name,
        "/fhir/Observation",
        "/fhir/AuditEvent?patient=" + patient,
        "/fhir/Location/" + NUMBER,
        "/fhir/" + name,
        "/fhir/" + name + "/" + BORN);
  }

  private static List<String> ofOperations(String patient) {
    String name = encoded(NAME);
    return List.of(
        "/fhir/Patient/$validate",
        "/fhir/Patient/" + patient + "/$catheter-days",
        "/fhir/Patient/" + patient + "/$catheter-days?asOf=" + name,
        "/fhir/Patient/" + NUMBER + "/$catheter-days?asOf=" + name,
        "/fhir/$overdue?ward=" + name,
        "/fhir/$device-days?start=" + name + "&end=" + TIME,
        "/fhir/$unit-report?start=" + name,
        "/fhir/Location/" + NUMBER + "/$device-days",
        "/fhir/$export",
        "/fhir/$export?_typeFilter=" + encoded("Patient?identifier=" + NUMBER),
        "/fhir/$export/" + NUMBER,
        "/fhir/$export/" + NUMBER + "/Patient.ndjson");
  }

  private static List<String> ofTheRest(String patient) {
    String name = encoded(NAME);
    return List.of(
        "/.well-known/" + name,
        "/publishing",
        "/publishing?resource=" + encoded("urn:canary|" + NUMBER),
        "/publishing/parked/Patient/" + NUMBER + "/$release",
        "/publishing/parked/Patient/" + name + "/$skip",
        "/publishing/" + name,
        "/metrics?x=" + name,
        "/metrics/" + NUMBER,
        "/surveillance",
        "/surveillance?x=" + name,
        "/surveillance/candidates",
        "/surveillance/" + name,
        "/surveillance/" + name + "/2026-02",
        "/surveillance/A-1/" + name,
        "/surveillance/A-1/" + name + "/versions",
        "/?ward=" + name,
        "/wards/" + name + "?ahead=" + name,
        "/wards/A-1/record",
        "/wards/A-1/take-back",
        "/recorder",
        "/patients/" + patient,
        "/patients/" + NUMBER,
        "/insertions/" + NUMBER,
        "/report?month=" + name,
        "/wards/" + NUMBER + "/report.csv?month=" + name,
        "/login?to=" + name,
        "/login/callback?code=" + name + "&state=" + name,
        "/" + name);
  }

  /** For any part of an address, and for a form. */
  private static String encoded(String text) {
    return URLEncoder.encode(text, StandardCharsets.UTF_8).replace("+", "%20");
  }
}
