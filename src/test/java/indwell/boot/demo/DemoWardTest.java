package indwell.boot.demo;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Stream;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

@DisplayNameGeneration(ReplaceUnderscores.class)
class DemoWardTest {
  private static final ObjectMapper JSON = new ObjectMapper();

  /** A moment of loading and the facility's zone. */
  record Loading(Instant now, ZoneId zone) {}

  /** Just after and before midnight, at noon, at the clock changes, far east and far west. */
  static Stream<Loading> loadings() {
    return Stream.of(
        loading("2026-11-25T00:00:00Z", "UTC"),
        loading("2026-11-25T00:10:07Z", "UTC"),
        loading("2026-11-25T12:00:00Z", "UTC"),
        loading("2026-11-25T23:50:59Z", "UTC"),
        loading("2026-03-29T00:30:00Z", "Europe/Berlin"),
        loading("2026-03-29T01:00:00Z", "Europe/Berlin"),
        loading("2026-10-25T00:30:00Z", "Europe/Berlin"),
        loading("2026-10-25T01:30:00Z", "Europe/Berlin"),
        loading("2026-10-25T22:59:59Z", "Europe/Berlin"),
        loading("2026-06-01T05:44:00Z", "Asia/Kathmandu"),
        loading("2026-06-01T10:01:00Z", "Pacific/Kiritimati"),
        loading("2026-06-01T10:59:00Z", "Pacific/Pago_Pago"));
  }

  private static Loading loading(String now, String zone) {
    return new Loading(Instant.parse(now), ZoneId.of(zone));
  }

  @ParameterizedTest
  @MethodSource("loadings")
  void no_event_lies_in_the_future(Loading loading) throws Exception {
    for (JsonNode event : events(loading)) {
      for (String time : timesIn(event)) {
        assertThat(OffsetDateTime.parse(time).toInstant())
            .describedAs(event.toString())
            .isBeforeOrEqualTo(loading.now());
      }
    }
  }

  @ParameterizedTest
  @MethodSource("loadings")
  void the_events_come_in_the_order_in_which_they_happened(Loading loading) throws Exception {
    List<Instant> order = new ArrayList<>();
    for (JsonNode event : events(loading)) {
      order.add(OffsetDateTime.parse(event.path("occurredAt").textValue()).toInstant());
    }

    assertThat(order).isSorted();
  }

  @ParameterizedTest
  @MethodSource("loadings")
  void two_events_share_a_name_only_as_versions(Loading loading) throws Exception {
    Set<String> seen = new TreeSet<>();
    for (JsonNode event : events(loading)) {
      String version = event.path("eventId").textValue() + " " + event.path("version").intValue();
      assertThat(seen.add(version)).describedAs(version).isTrue();
    }
  }

  @Test
  void the_same_moment_gives_the_same_events() {
    Loading loading = loading("2026-11-25T09:17:23Z", "Europe/Berlin");

    assertThat(DemoWard.events(loading.now(), loading.zone()))
        .isEqualTo(DemoWard.events(loading.now(), loading.zone()));
  }

  @Test
  void it_tells_of_twelve_patients_with_every_type_of_event() throws Exception {
    Set<String> patients = new TreeSet<>();
    Set<String> types = new TreeSet<>();
    for (JsonNode event : events(loading("2026-11-25T09:17:23Z", "UTC"))) {
      patients.add(event.path("patient").path("value").textValue());
      types.add(event.path("type").textValue());
    }

    assertThat(patients).hasSize(12).allMatch(patient -> patient.matches("W-1\\d\\d"));
    assertThat(types)
        .containsExactlyInAnyOrder(
            "patient-admitted",
            "patient-transferred",
            "patient-discharged",
            "catheter-inserted",
            "catheter-removed",
            "catheter-exchanged",
            "need-reviewed",
            "securement-changed",
            "care-checked",
            "urine-measured",
            "specimen-collected",
            "weight-measured");
  }

  @Test
  void one_event_is_corrected_and_one_withdrawn() throws Exception {
    List<String> later = new ArrayList<>();
    for (JsonNode event : events(loading("2026-11-25T09:17:23Z", "UTC"))) {
      if (event.path("version").intValue() > 1) {
        later.add(event.path("eventId").textValue() + " " + event.path("status").textValue());
      }
    }

    assertThat(later)
        .containsExactlyInAnyOrder(
            "W-101/wrong-chart entered-in-error", "W-108/third-insertion final");
  }

  private static List<JsonNode> events(Loading loading) throws Exception {
    List<JsonNode> events = new ArrayList<>();
    for (String body : DemoWard.events(loading.now(), loading.zone())) {
      events.add(JSON.readTree(body));
    }
    return events;
  }

  private static List<String> timesIn(JsonNode event) {
    List<String> times = new ArrayList<>();
    times.add(event.path("occurredAt").textValue());
    for (String field : List.of("from", "surgeryEndedAt")) {
      if (event.path("details").has(field)) {
        times.add(event.path("details").path(field).textValue());
      }
    }
    return times;
  }
}
