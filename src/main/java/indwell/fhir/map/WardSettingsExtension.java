package indwell.fhir.map;

import indwell.domain.refusal.IssueCode;
import indwell.domain.rule.OwnSettings;
import indwell.domain.rule.SettingsHistory;
import indwell.domain.rule.UrineReading;
import indwell.fhir.term.Extensions;
import java.math.BigDecimal;
import java.time.Duration;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.format.DateTimeParseException;
import java.util.Optional;
import java.util.function.Function;
import org.hl7.fhir.r4.model.Extension;
import org.hl7.fhir.r4.model.IntegerType;
import org.hl7.fhir.r4.model.Location;
import org.hl7.fhir.r4.model.Quantity;
import org.hl7.fhir.r4.model.Type;

/**
 * What a ward sets for itself, as extensions {@code catheter-ward-settings} of its Location: one
 * for each date from which something else holds.
 */
public final class WardSettingsExtension {
  private static final BigDecimal MILLIS_AN_HOUR =
      BigDecimal.valueOf(Duration.ofHours(1).toMillis());

  /** A year and a day of leap; nobody waits longer for a check, and longer ones leave the clock. */
  private static final BigDecimal MOST_HOURS = BigDecimal.valueOf(8784);

  private static final BigDecimal MOST_DAYS = BigDecimal.valueOf(366);

  /** The largest balloon that can be recorded. */
  private static final BigDecimal MOST_ML = BigDecimal.valueOf(100);

  private WardSettingsExtension() {}

  /**
   * The settings of a Location that meets its profile.
   *
   * @throws UnusableSetting if a value meets the profile and cannot be followed all the same
   * @throws IllegalArgumentException if two entries begin on one date
   */
  public static SettingsHistory fromFhir(Location location) {
    return new SettingsHistory(
        location.getExtensionsByUrl(Extensions.WARD_SETTINGS).stream()
            .map(WardSettingsExtension::entry)
            .toList());
  }

  private static OwnSettings entry(Extension entry) {
    return new OwnSettings(
        part(entry, "from", WardSettingsExtension::date).orElseThrow(),
        part(entry, "count-time", type -> time("count-time", type)),
        part(entry, "review-due-by", type -> time("review-due-by", type)),
        part(entry, "securement-good-days", WardSettingsExtension::days),
        part(entry, "output-charting-within", type -> hours("output-charting-within", type)),
        part(entry, "care-check-within", type -> hours("care-check-within", type)),
        part(entry, "postoperative-within", type -> hours("postoperative-within", type)),
        part(entry, "balloon-tolerance", WardSettingsExtension::millilitres),
        part(entry, "urine-reading", type -> reading(type.primitiveValue())));
  }

  private static <T> Optional<T> part(Extension entry, String name, Function<Type, T> read) {
    return Optional.ofNullable(entry.getExtensionByUrl(name))
        .flatMap(part -> Optional.ofNullable(part.getValue()))
        .map(read);
  }

  /** FHIR takes a year or a month for a date; from a whole day on is what a setting needs. */
  private static LocalDate date(Type type) {
    try {
      return LocalDate.parse(type.primitiveValue());
    } catch (DateTimeParseException partial) {
      throw malformed("from", type, "a date with year, month and day");
    }
  }

  /** FHIR takes a leap second; no clock time of a ward has one. */
  private static LocalTime time(String name, Type type) {
    try {
      return LocalTime.parse(type.primitiveValue());
    } catch (DateTimeParseException leapSecond) {
      throw malformed(name, type, "a time of day from 00:00:00 to 23:59:59");
    }
  }

  private static UnusableSetting malformed(String name, Type type, String expected) {
    return new UnusableSetting(
        IssueCode.MALFORMED_TEXT,
        "Setting %s \"%s\" cannot be followed; expected %s."
            .formatted(name, type.primitiveValue(), expected));
  }

  private static int days(Type type) {
    int days = ((IntegerType) type).getValue();
    return within("securement-good-days", BigDecimal.valueOf(days), MOST_DAYS, "days")
        .intValueExact();
  }

  /** A Quantity in hours, to the millisecond. */
  private static Duration hours(String name, Type type) {
    BigDecimal hours = within(name, ((Quantity) type).getValue(), MOST_HOURS, "h");
    return Duration.ofMillis(hours.multiply(MILLIS_AN_HOUR).longValue());
  }

  private static BigDecimal millilitres(Type type) {
    return within("balloon-tolerance", ((Quantity) type).getValue(), MOST_ML, "mL");
  }

  private static BigDecimal within(String name, BigDecimal value, BigDecimal most, String unit) {
    if (value.signum() < 0 || value.compareTo(most) > 0) {
      throw new UnusableSetting(
          IssueCode.OUT_OF_RANGE,
          "Setting %s of %s %s is out of range; expected 0 to %s %s."
              .formatted(name, value, unit, most, unit));
    }
    return value;
  }

  private static UrineReading reading(String code) {
    return UrineReading.ofCode(code).orElseThrow();
  }
}
