package indwell.fhir.map;

import indwell.domain.rule.OwnSettings;
import indwell.domain.rule.SettingsHistory;
import indwell.domain.rule.UrineReading;
import indwell.fhir.term.Extensions;
import java.math.BigDecimal;
import java.time.Duration;
import java.time.LocalDate;
import java.time.LocalTime;
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

  private WardSettingsExtension() {}

  /**
   * The settings of a Location that meets its profile.
   *
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
        part(entry, "from", type -> LocalDate.parse(type.primitiveValue())).orElseThrow(),
        part(entry, "count-time", WardSettingsExtension::time),
        part(entry, "review-due-by", WardSettingsExtension::time),
        part(entry, "securement-good-days", type -> ((IntegerType) type).getValue()),
        part(entry, "output-charting-within", WardSettingsExtension::hours),
        part(entry, "care-check-within", WardSettingsExtension::hours),
        part(entry, "postoperative-within", WardSettingsExtension::hours),
        part(entry, "balloon-tolerance", type -> ((Quantity) type).getValue()),
        part(entry, "urine-reading", type -> reading(type.primitiveValue())));
  }

  private static <T> Optional<T> part(Extension entry, String name, Function<Type, T> read) {
    return Optional.ofNullable(entry.getExtensionByUrl(name))
        .flatMap(part -> Optional.ofNullable(part.getValue()))
        .map(read);
  }

  private static LocalTime time(Type type) {
    return LocalTime.parse(type.primitiveValue());
  }

  /** A Quantity in hours, to the millisecond. */
  private static Duration hours(Type type) {
    BigDecimal hours = ((Quantity) type).getValue();
    return Duration.ofMillis(hours.multiply(MILLIS_AN_HOUR).longValue());
  }

  private static UrineReading reading(String code) {
    return UrineReading.ofCode(code).orElseThrow();
  }
}
