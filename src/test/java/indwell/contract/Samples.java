package indwell.contract;

import indwell.domain.event.EventKey;
import indwell.domain.event.Ward;
import indwell.domain.time.Span;
import indwell.domain.timeline.CountedTime;
import indwell.port.PatientIndex;
import indwell.port.PatientIndex.CatheterSpan;
import indwell.port.PatientIndex.WardSpan;
import indwell.port.ResourceKey;
import indwell.port.ResourceQuery;
import indwell.port.StoredEvent;
import indwell.port.StoredResource;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/** Events, resources and whereabouts for tests; each literal is different on purpose. */
final class Samples {
  static final Instant NOON = Instant.parse("2026-03-01T12:00:00.417Z");

  private Samples() {}

  static EventKey key(String eventId) {
    return new EventKey("ward-charting", eventId);
  }

  static StoredEvent event(String eventId, int version, String patientId) {
    return new StoredEvent(
        key(eventId),
        version,
        false,
        patientId,
        "{\"n\":\"" + eventId + "/" + version + "\"}",
        NOON.plusMillis(version),
        List.of("Procedure/" + eventId.toLowerCase(java.util.Locale.ROOT)));
  }

  static StoredEvent withdrawn(String eventId, int version, String patientId) {
    return new StoredEvent(
        key(eventId), version, true, patientId, "{}", NOON.plusMillis(version), List.of());
  }

  static StoredResource resource(String type, String id, int version) {
    return resource(type, id, version, "pat-71");
  }

  static StoredResource resource(
      String type, String id, int version, String patientId, String... identifiers) {
    return new StoredResource(
        new ResourceKey(type, id),
        version,
        NOON.plusSeconds(version),
        patientId,
        List.of(identifiers),
        "{\"resourceType\":\"" + type + "\",\"id\":\"" + id + "\",\"v\":" + version + "}");
  }

  static ResourceQuery all(String type) {
    return new ResourceQuery(type, Set.of(), Set.of(), Set.of(), Optional.empty(), 1000);
  }

  static ResourceQuery identified(String type, String... tokens) {
    return new ResourceQuery(type, Set.of(), Set.of(tokens), Set.of(), Optional.empty(), 1000);
  }

  static WardSpan inpatient(String ward, String start, String end) {
    return new WardSpan(new Ward(ward), true, instant(start), instant(end), false);
  }

  static WardSpan outpatient(String ward, String start, String end) {
    return new WardSpan(new Ward(ward), false, instant(start), instant(end), false);
  }

  static WardSpan doubtful(String ward, String start, String end) {
    return new WardSpan(new Ward(ward), true, instant(start), instant(end), true);
  }

  static CountedTime counted(String ward, String start, String end) {
    return new CountedTime(new Ward(ward), span(start, end), Optional.empty());
  }

  static CountedTime counted(
      String ward, String start, String end, String withStart, String withEnd) {
    return new CountedTime(new Ward(ward), span(start, end), Optional.of(span(withStart, withEnd)));
  }

  private static Span span(String start, String end) {
    return end.equals("open")
        ? Span.since(instant(start))
        : Span.between(instant(start), instant(end));
  }

  static PatientIndex counted(CountedTime... times) {
    return new PatientIndex(List.of(), List.of(), List.of(times));
  }

  static CatheterSpan catheter(String start, String end) {
    return new CatheterSpan(instant(start), instant(end));
  }

  static PatientIndex wards(WardSpan... spans) {
    return new PatientIndex(List.of(spans), List.of(), List.of());
  }

  static PatientIndex catheters(CatheterSpan... spans) {
    return new PatientIndex(List.of(), List.of(spans), List.of());
  }

  /** A time of 1 March 2026 UTC, {@code 09:30}; {@code open} is the end that has not come. */
  static Instant instant(String time) {
    return time.equals("open") ? Instant.MAX : Instant.parse("2026-03-01T" + time + ":00Z");
  }
}
