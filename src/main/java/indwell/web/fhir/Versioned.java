package indwell.web.fhir;

import indwell.port.StoredResource;
import indwell.usecase.FlagResource;
import indwell.web.HttpAnswer;
import io.vertx.core.buffer.Buffer;
import java.time.DateTimeException;
import java.time.Instant;
import java.time.ZoneOffset;
import java.time.ZonedDateTime;
import java.time.format.DateTimeFormatter;
import java.time.temporal.ChronoUnit;
import java.util.Arrays;
import java.util.Locale;
import java.util.Optional;

/** Answers with one version of a resource, or says that the caller has it already. */
final class Versioned {
  /** RFC 9110, section 5.6.7; the day always has two digits, unlike in RFC 1123. */
  private static final DateTimeFormatter HTTP_DATE =
      DateTimeFormatter.ofPattern("EEE, dd MMM yyyy HH:mm:ss 'GMT'", Locale.ROOT)
          .withZone(ZoneOffset.UTC);

  private Versioned() {}

  static HttpAnswer answer(FhirRequest request, StoredResource stored, Shape shape) {
    if (isOfAPatient(stored)) {
      request.visit().about(stored.patientId());
    }
    String json = shape.of(stored.key().type(), stored.json());
    if (isAlwaysOfNow(stored)) {
      return FhirAnswers.json(request, json);
    }
    HttpAnswer answer =
        unchanged(request.headers(), stored)
            ? new HttpAnswer(304, FhirAnswers.json(request, "").headers(), Buffer.buffer())
            : FhirAnswers.json(request, json);
    HttpAnswer dated = answer.with("Last-Modified", lastModified(stored));
    return hasVersions(stored) ? dated.with("ETag", eTag(stored)) : dated;
  }

  /** A row of the audit trail is about whoever did something. */
  private static boolean isOfAPatient(StoredResource stored) {
    return !stored.patientId().isEmpty() && !stored.key().type().equals("AuditEvent");
  }

  /** A Group is made as of the request, so that no earlier answer can stand for it. */
  private static boolean isAlwaysOfNow(StoredResource stored) {
    return stored.key().type().equals("Group");
  }

  /** A flag has none, so that no entity tag can tell one state of it from the next. */
  private static boolean hasVersions(StoredResource stored) {
    return stored.version() != FlagResource.NO_VERSION;
  }

  static String lastModified(StoredResource stored) {
    return HTTP_DATE.format(stored.lastUpdated());
  }

  static String eTag(StoredResource stored) {
    return "W/\"" + stored.version() + "\"";
  }

  /** RFC 9110, section 13.2.2: the date counts only where there is no entity tag. */
  private static boolean unchanged(FhirRequest.Headers headers, StoredResource stored) {
    return headers
        .ifNoneMatch()
        .filter(tags -> hasVersions(stored))
        .map(tags -> names(tags, stored.version()))
        .orElseGet(
            () ->
                headers
                    .ifModifiedSince()
                    .flatMap(Versioned::httpDate)
                    .filter(date -> !secondOf(stored).isAfter(date))
                    .isPresent());
  }

  private static boolean names(String tags, int version) {
    String quoted = "\"" + version + "\"";
    return Arrays.stream(tags.split(",", -1))
        .map(String::trim)
        .anyMatch(tag -> tag.equals("*") || tag.equals(quoted) || tag.equals("W/" + quoted));
  }

  private static Instant secondOf(StoredResource stored) {
    return stored.lastUpdated().truncatedTo(ChronoUnit.SECONDS);
  }

  private static Optional<Instant> httpDate(String text) {
    try {
      return Optional.of(
          ZonedDateTime.parse(text, DateTimeFormatter.RFC_1123_DATE_TIME).toInstant());
    } catch (DateTimeException e) {
      return Optional.empty();
    }
  }
}
