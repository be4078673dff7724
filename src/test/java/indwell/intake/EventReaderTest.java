package indwell.intake;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import indwell.domain.event.BusinessId;
import indwell.domain.event.CareItem;
import indwell.domain.event.CatheterEvent;
import indwell.domain.event.CatheterId;
import indwell.domain.event.Drainage;
import indwell.domain.event.Envelope;
import indwell.domain.event.EventKey;
import indwell.domain.event.EventType;
import indwell.domain.event.EventVersion;
import indwell.domain.event.Indication;
import indwell.domain.event.InsertionFindings;
import indwell.domain.event.InsertionStep;
import indwell.domain.event.Movement;
import indwell.domain.event.PatientMeasurement;
import indwell.domain.event.Placing;
import indwell.domain.event.Product;
import indwell.domain.event.Route;
import indwell.domain.event.SpecimenPurpose;
import indwell.domain.event.StatedIndication;
import indwell.domain.event.StepResult;
import indwell.domain.event.Ward;
import java.math.BigDecimal;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.stream.Stream;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;

@DisplayNameGeneration(DisplayNameGenerator.ReplaceUnderscores.class)
class EventReaderTest {
  private static final BusinessId STAY = new BusinessId("urn:oid:1.2.4", "s1");
  private static final Envelope ENVELOPE =
      new Envelope(
          new EventKey("tablet", "e1"),
          1,
          Instant.parse("2026-03-01T08:00:00Z"),
          new BusinessId("urn:oid:1.2.3", "p1"),
          Optional.of(new BusinessId("urn:oid:1.2.5", "n1")));
  private static final Placing PLACING =
      new Placing(
          new CatheterId("c2"),
          Route.URETHRAL,
          Drainage.BAG,
          new Product(
              14,
              Optional.of(BigDecimal.TEN),
              Optional.of("silicone"),
              OptionalInt.of(2),
              Optional.of("L1"),
              Optional.of("U1"),
              OptionalInt.of(28)),
          new StatedIndication(Indication.PERIOPERATIVE, Optional.of("hip")),
          Optional.of(Instant.parse("2026-03-01T07:00:00Z")),
          new InsertionFindings(
              Optional.of(BigDecimal.TEN),
              Optional.of(BigDecimal.valueOf(300)),
              Optional.of(false),
              OptionalInt.of(1),
              Optional.of(false)),
          Map.of(
              InsertionStep.HAND_HYGIENE, StepResult.DONE,
              InsertionStep.LUBRICANT, StepResult.NOT_DONE));

  @ParameterizedTest
  @EnumSource
  void makes_an_event_of_every_type(EventType type) {
    assertThat(Samples.accept(Samples.event(type)).version())
        .isEqualTo(new EventVersion.Stated(expected(type)));
  }

  private static indwell.domain.event.BedsideEvent expected(EventType type) {
    CatheterId c1 = new CatheterId("c1");
    Optional<BusinessId> stay = Optional.of(STAY);
    return switch (type) {
      case PATIENT_ADMITTED -> new Movement.Admission(ENVELOPE, STAY, new Ward("W1"), true);
      case PATIENT_TRANSFERRED -> new Movement.Transfer(ENVELOPE, STAY, new Ward("W1"), true);
      case PATIENT_DISCHARGED -> new Movement.Discharge(ENVELOPE, STAY, Optional.of(true));
      case CATHETER_INSERTED -> new CatheterEvent.Insertion(ENVELOPE, STAY, PLACING);
      case CATHETER_EXCHANGED -> new CatheterEvent.Exchange(ENVELOPE, stay, c1, PLACING);
      case CATHETER_REMOVED ->
          new CatheterEvent.Removal(ENVELOPE, stay, c1, Optional.of("no longer needed"));
      case NEED_REVIEWED ->
          new CatheterEvent.NeedReview(
              ENVELOPE,
              stay,
              c1,
              true,
              Optional.of(new StatedIndication(Indication.OTHER, Optional.of("see notes"))));
      case SECUREMENT_CHANGED ->
          new CatheterEvent.SecurementChange(ENVELOPE, stay, c1, Optional.of("left thigh"));
      case CARE_CHECKED ->
          new CatheterEvent.CareCheck(
              ENVELOPE,
              stay,
              c1,
              Map.of(CareItem.BAG_OFF_FLOOR, true, CareItem.CLOSED_SYSTEM, false));
      case URINE_MEASURED ->
          new PatientMeasurement.UrineOutput(
              ENVELOPE,
              stay,
              Instant.parse("2026-03-01T06:00:00Z"),
              new BigDecimal("250.5"),
              Optional.of(c1));
      case SPECIMEN_COLLECTED ->
          new CatheterEvent.SpecimenCollection(
              ENVELOPE, stay, c1, Optional.of(SpecimenPurpose.CULTURE));
      case WEIGHT_MEASURED ->
          new PatientMeasurement.BodyWeight(ENVELOPE, stay, new BigDecimal("70.5"));
    };
  }

  /** What may be left out of an event that stands, by type; {@code details} itself is apart. */
  private static List<String> required(EventType type) {
    List<String> required =
        new ArrayList<>(List.of("source", "eventId", "type", "occurredAt", "patient"));
    String placing = "catheterId route sizeCh indication";
    String own =
        switch (type) {
          case PATIENT_ADMITTED, PATIENT_TRANSFERRED -> "ward";
          case PATIENT_DISCHARGED -> "";
          case CATHETER_INSERTED -> placing;
          case CATHETER_EXCHANGED -> "catheterId replacement";
          case CATHETER_REMOVED, SECUREMENT_CHANGED, SPECIMEN_COLLECTED -> "catheterId";
          case NEED_REVIEWED -> "catheterId stillNeeded indication indicationText";
          case CARE_CHECKED -> "catheterId items";
          case URINE_MEASURED -> "volumeMl from";
          case WEIGHT_MEASURED -> "kg";
        };
    Stream.of(own.split(" ")).filter(f -> !f.isEmpty()).forEach(f -> required.add("details." + f));
    if (type == EventType.CATHETER_EXCHANGED) {
      Stream.of(placing.split(" ")).forEach(f -> required.add("details.replacement." + f));
    }
    if (type == EventType.CATHETER_INSERTED || type.code().startsWith("patient-")) {
      required.add("encounter");
    }
    if (type != EventType.PATIENT_DISCHARGED) {
      required.add("details");
    }
    return required;
  }

  @ParameterizedTest
  @EnumSource
  void needs_the_required_fields_and_no_others(EventType type) {
    String event = Samples.event(type);
    List<String> needed = required(type);
    for (String path : paths(event)) {
      String lacking = Samples.without(event, path);
      if (needed.contains(path)) {
        assertThat(Samples.faultsOf(lacking)).as(path).contains("IND-0011 " + path);
      } else {
        assertThat(Samples.read(lacking)).as(path).isInstanceOf(Reading.Accepted.class);
      }
    }
  }

  /** All fields but those of identifiers, steps and items. */
  private static List<String> paths(String event) {
    List<String> paths = new ArrayList<>();
    com.fasterxml.jackson.databind.JsonNode root = Samples.tree(event);
    root.fieldNames().forEachRemaining(paths::add);
    root.get("details").fieldNames().forEachRemaining(name -> paths.add("details." + name));
    if (root.get("details").has("replacement")) {
      root.get("details")
          .get("replacement")
          .fieldNames()
          .forEachRemaining(name -> paths.add("details.replacement." + name));
    }
    return paths;
  }

  @ParameterizedTest
  @EnumSource
  void refuses_an_unknown_field_anywhere(EventType type) {
    String event = Samples.event(type);
    for (String path : List.of("x", "patient.x", "encounter.x", "recorder.x", "details.x")) {
      assertThat(Samples.faultsOf(Samples.with(event, path, "1")))
          .containsExactly("IND-0010 " + path);
    }
  }

  @ParameterizedTest
  @EnumSource
  void reads_back_what_it_wrote(EventType type) {
    Reading.Accepted accepted = Samples.accept(Samples.event(type));
    assertThat(EventReader.fromCanonical(accepted.canonical())).isEqualTo(accepted.version());
  }

  @Test
  void reads_back_an_event_that_the_clock_has_not_reached() {
    String canonical =
        Samples.accept(Samples.event(EventType.WEIGHT_MEASURED))
            .canonical()
            .replace("2026-03-01", "2027-03-01");
    assertThat(EventReader.fromCanonical(canonical).version()).isEqualTo(1);
  }

  /** A store may hold what an earlier build took for an absolute URI. */
  @Test
  void reads_back_a_system_that_it_would_not_take_today() {
    String canonical =
        Samples.accept(
                Samples.with(
                    Samples.event(EventType.WEIGHT_MEASURED), "patient.system", "\"urn:earlier\""))
            .canonical()
            .replace("urn:earlier", "http://a:b/c");

    assertThat(EventReader.fromCanonical(canonical).patient().system()).isEqualTo("http://a:b/c");
  }

  @Test
  void does_not_read_back_what_it_never_wrote() {
    for (String text : List.of("", "[]", "{}", "{\"source\":1}", "{\"a\":1e999}")) {
      assertThatThrownBy(() -> EventReader.fromCanonical(text))
          .isInstanceOf(IllegalArgumentException.class);
    }
  }

  @Test
  void writes_one_text_with_defaults_filled_in() {
    assertThat(
            Samples.accept(
                    """
                    {"type":"catheter-exchanged", "eventId":"e1", "source":"s",
                     "occurredAt":"2026-03-01t08:00:00.50+00:00",
                     "patient":{"value":"a\\"\\\\\\u00e9","system":"urn:oid:1.2"},
                     "details":{"replacement":{"sizeCh":1.40e1,"route":"urethral",
                       "indication":"acute-retention","catheterId":"n","balloonFilledMl":10.50},
                       "catheterId":"o"}}""")
                .canonical())
        .isEqualTo(
            "{\"details\":{\"catheterId\":\"o\",\"replacement\":{\"balloonFilledMl\":10.5,"
                + "\"catheterId\":\"n\",\"drainage\":\"bag\",\"indication\":\"acute-retention\","
                + "\"route\":\"urethral\",\"sizeCh\":14}},\"eventId\":\"e1\","
                + "\"occurredAt\":\"2026-03-01t08:00:00.50+00:00\","
                + "\"patient\":{\"system\":\"urn:oid:1.2\",\"value\":\"a\\\"\\\\é\"},"
                + "\"source\":\"s\",\"status\":\"final\",\"type\":\"catheter-exchanged\","
                + "\"version\":1}");
  }

  /** Type, the field with a default, the default. */
  @ParameterizedTest
  @CsvSource({
    "WEIGHT_MEASURED, version, 1",
    "WEIGHT_MEASURED, status, '\"final\"'",
    "PATIENT_ADMITTED, details.inpatient, true",
    "PATIENT_TRANSFERRED, details.inpatient, true",
    "CATHETER_INSERTED, details.drainage, '\"bag\"'",
    "CATHETER_EXCHANGED, details.replacement.drainage, '\"bag\"'",
  })
  void a_default_left_out_is_the_same_content(EventType type, String path, String json) {
    String left = Samples.without(Samples.event(type), path);
    Reading.Accepted stated = Samples.accept(Samples.with(left, path, json));
    assertThat(Samples.accept(left)).isEqualTo(stated);
  }

  @Test
  void a_discharge_without_details_is_one_with_empty_details() {
    String left = Samples.without(Samples.event(EventType.PATIENT_DISCHARGED), "details");
    Reading.Accepted empty = Samples.accept(Samples.with(left, "details", "{}"));
    assertThat(Samples.accept(left)).isEqualTo(empty);
    assertThat(empty.version())
        .isEqualTo(
            new EventVersion.Stated(new Movement.Discharge(ENVELOPE, STAY, Optional.empty())));
  }

  @ParameterizedTest
  @EnumSource
  void a_withdrawal_needs_no_more_than_its_key_type_and_patient(EventType type) {
    String event =
        """
        {"source":"tablet","eventId":"e1","version":2,"status":"entered-in-error","type":"%s",
         "patient":{"system":"urn:oid:1.2.3","value":"p1"}}"""
            .formatted(type.code());
    Reading.Accepted accepted = Samples.accept(event);
    EventVersion withdrawn =
        new EventVersion.Withdrawn(
            new EventKey("tablet", "e1"),
            2,
            type,
            new BusinessId("urn:oid:1.2.3", "p1"),
            Optional.empty());
    assertThat(accepted.version()).isEqualTo(withdrawn);
    assertThat(EventReader.fromCanonical(accepted.canonical())).isEqualTo(withdrawn);
    assertThat(Samples.accept(Samples.with(event, "details", "{}"))).isEqualTo(accepted);
    for (String path : List.of("source", "eventId", "version", "type", "patient")) {
      assertThat(Samples.faultsOf(Samples.without(event, path)))
          .containsExactly("IND-0011 " + path);
    }
  }

  @Test
  void a_withdrawal_is_checked_as_far_as_it_goes() {
    String event =
        Samples.with(Samples.event(EventType.CATHETER_INSERTED), "status", "\"entered-in-error\"");
    assertThat(Samples.accept(event).version()).isInstanceOf(EventVersion.Withdrawn.class);
    assertThat(Samples.faultsOf(Samples.with(event, "details.sizeCh", "31")))
        .containsExactly("IND-0015 details.sizeCh");
    assertThat(Samples.faultsOf(Samples.with(event, "details.x", "31")))
        .containsExactly("IND-0010 details.x");
    assertThat(Samples.faultsOf(Samples.with(event, "encounter", "{}")))
        .containsExactly("IND-0011 encounter.system", "IND-0011 encounter.value");
    assertThat(Samples.read(Samples.without(event, "details.sizeCh")))
        .isInstanceOf(Reading.Accepted.class);
  }

  @Test
  void a_need_that_has_ended_needs_no_indication() {
    String event =
        Samples.with(Samples.event(EventType.NEED_REVIEWED), "details.stillNeeded", "false");
    assertThat(Samples.read(Samples.without(event, "details.indication")))
        .isInstanceOf(Reading.Accepted.class);
    assertThat(Samples.faultsOf(Samples.without(event, "details.indicationText")))
        .containsExactly("IND-0011 details.indicationText");
  }

  @Test
  void what_could_be_read_of_a_refused_event_is_told() {
    String event = Samples.with(Samples.event(EventType.WEIGHT_MEASURED), "details.kg", "0");
    assertThat(Samples.refuse(event))
        .extracting(Reading.Refused::source, Reading.Refused::eventId, Reading.Refused::version)
        .containsExactly(Optional.of("tablet"), Optional.of("e1"), OptionalInt.of(1));
    assertThat(Samples.refuse(Samples.without(event, "version")).version()).hasValue(1);
    assertThat(Samples.refuse(Samples.with(event, "version", "0")).version()).isEmpty();
    assertThat(Samples.refuse(Samples.with(event, "source", "\"a b\"")).source()).isEmpty();
    assertThat(Samples.refuse(Samples.with(event, "eventId", "null")).eventId()).isEmpty();
  }

  @Test
  void tells_a_bounded_number_of_faults() {
    StringBuilder event = new StringBuilder("{\"x\":1");
    for (int i = 0; i < 5_000; i++) {
      event.append(",\"x").append(i).append("\":1");
    }
    assertThat(Samples.refuse(event.append('}').toString()).issues()).hasSize(Faults.MOST);
  }
}
