package indwell.fhir.map;

import indwell.domain.time.Span;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import org.hl7.fhir.r4.model.DateTimeType;
import org.hl7.fhir.r4.model.InstantType;
import org.hl7.fhir.r4.model.Period;

/**
 * What a mapper needs to know beside the events: the zone of the facility, in which every time is
 * written, with the offset that its clocks have then. Milliseconds are written only when there are
 * some.
 */
public record MappingContext(ZoneId zone) {
  private static final DateTimeFormatter SECONDS =
      DateTimeFormatter.ofPattern("uuuu-MM-dd'T'HH:mm:ssXXX");
  private static final DateTimeFormatter MILLIS =
      DateTimeFormatter.ofPattern("uuuu-MM-dd'T'HH:mm:ss.SSSXXX");

  /** The instant as FHIR writes a dateTime. */
  public String text(Instant instant) {
    OffsetDateTime local = OffsetDateTime.ofInstant(instant, zone);
    return (local.getNano() < 1_000_000 ? SECONDS : MILLIS).format(local);
  }

  DateTimeType dateTime(Instant instant) {
    return new DateTimeType(text(instant));
  }

  InstantType instant(Instant instant) {
    return new InstantType(text(instant));
  }

  /** A Period, open while the span lasts. */
  Period period(Span span) {
    Period period = new Period().setStartElement(dateTime(span.start()));
    span.end().ifPresent(end -> period.setEndElement(dateTime(end)));
    return period;
  }
}
