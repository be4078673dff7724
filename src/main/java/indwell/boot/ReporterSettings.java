package indwell.boot;

import indwell.domain.event.BusinessId;
import indwell.fhir.map.Reporter;
import indwell.fhir.map.Reporter.Form;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** Turns the configuration into the facility that reports, or refuses to start and says why. */
final class ReporterSettings {
  private static final Pattern TOKEN =
      Pattern.compile("([A-Za-z][A-Za-z0-9+.-]*:[^\\s|]+)\\|(\\S(?:.*\\S)?)");
  private static final Pattern ORGANIZATION =
      Pattern.compile("https?://\\S+/Organization/[A-Za-z0-9.-]{1,64}");

  private ReporterSettings() {}

  /**
   * The facility; none when nothing is said of it.
   *
   * @throws IllegalArgumentException naming the setting that is missing or cannot be read
   */
  static Optional<Reporter> of(IndwellConfig config) {
    Optional<String> name = config.facilityName();
    Optional<BusinessId> identifier = config.facilityIdentifier().map(ReporterSettings::identifier);
    return switch (config.facilityReporter()) {
      case CONTAINED ->
          name.isEmpty() && identifier.isEmpty()
              ? Optional.empty()
              : Optional.of(new Reporter(name, identifier, new Reporter.Contained()));
      case LOGICAL -> {
        if (identifier.isEmpty()) {
          throw missing("indwell.facility-identifier", "logical");
        }
        yield Optional.of(new Reporter(name, identifier, new Reporter.Logical()));
      }
      case REFERENCE -> Optional.of(new Reporter(name, identifier, reference(config)));
    };
  }

  private static BusinessId identifier(String token) {
    Matcher parts = TOKEN.matcher(token);
    if (!parts.matches()) {
      throw new IllegalArgumentException(
          "Facility identifier "
              + token
              + " cannot be read; expected system|value with an absolute URI for the system.");
    }
    return new BusinessId(parts.group(1), parts.group(2));
  }

  private static Form reference(IndwellConfig config) {
    String url =
        config
            .facilityReference()
            .orElseThrow(() -> missing("indwell.facility-reference", "reference"));
    if (!ORGANIZATION.matcher(url).matches()) {
      throw new IllegalArgumentException(
          "Facility reference "
              + url
              + " cannot be read; expected the address of an Organization, such as"
              + " https://ehr.example/fhir/Organization/7.");
    }
    return new Reporter.Literal(url);
  }

  private static IllegalArgumentException missing(String setting, String form) {
    return new IllegalArgumentException(
        "Setting " + setting + " is missing; a facility reporter of form " + form + " needs it.");
  }
}
