package indwell.fhir.bundle;

import indwell.fhir.term.Systems;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.regex.Pattern;
import org.hl7.fhir.r4.model.Base;
import org.hl7.fhir.r4.model.BaseDateTimeType;
import org.hl7.fhir.r4.model.Extension;
import org.hl7.fhir.r4.model.Resource;
import org.jspecify.annotations.Nullable;

/**
 * The times of a resource that was sent which say when something happened: those that become times
 * of events, and those that are held against them. Each has to be an instant; R4 also has times
 * that name only a day, a month or a year.
 *
 * <p>Source: https://hl7.org/fhir/R4/datatypes.html#dateTime
 */
public final class StatedTimes {
  /** Where they stand, by type of resource; in an extension of our own, every time is one. */
  private static final Map<String, Pattern> PLACES =
      Map.of(
          "Procedure", Pattern.compile("performed(\\..*)?|extension.*"),
          "Observation", Pattern.compile("effective(\\..*)?"),
          "Specimen", Pattern.compile("collection\\.collected(\\..*)?"),
          "Encounter", Pattern.compile("period\\..*|location\\[\\d+\\]\\.period\\..*|extension.*"),
          "DeviceUseStatement", Pattern.compile("timing(\\..*)?"));

  private StatedTimes() {}

  /**
   * One time.
   *
   * @param element path within the resource, {@code effective.start}
   * @param text as it was sent
   */
  public record StatedTime(String element, String text) {}

  /** Whether a time is there and is a date and time with seconds and an offset. */
  public static boolean isInstant(@Nullable Base time) {
    return time instanceof BaseDateTimeType read
        && read.hasValue()
        && read.hasTime()
        && read.getTimeZone() != null;
  }

  /** Those of a resource that are no instants. */
  public static List<StatedTime> partial(Resource sent) {
    Pattern places = PLACES.get(sent.fhirType());
    List<StatedTime> partial = new ArrayList<>();
    if (places != null) {
      Elements.walk(
          sent,
          (path, element) -> {
            boolean counts = element instanceof BaseDateTimeType && places.matcher(path).matches();
            if (counts && ((BaseDateTimeType) element).hasValue() && !isInstant(element)) {
              partial.add(new StatedTime(path, element.primitiveValue()));
            }
            return !isForeign(element);
          });
    }
    return partial;
  }

  /** An extension that is none of ours; the parts of one have names without a colon. */
  private static boolean isForeign(Base element) {
    return element instanceof Extension extension
        && !extension.getUrl().startsWith(Systems.BASE)
        && extension.getUrl().contains(":");
  }
}
