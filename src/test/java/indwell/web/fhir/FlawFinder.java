package indwell.web.fhir;

import indwell.port.ProfileValidator;
import java.nio.charset.StandardCharsets;
import java.util.List;

/** Finds one thing in what holds the word "flawed", nothing in the rest. */
final class FlawFinder implements ProfileValidator {
  /** The one profile that it knows. */
  static final String KNOWN_PROFILE = "https://indwell.example/fhir/StructureDefinition/known";

  @Override
  public List<Finding> validate(byte[] json, List<String> profiles) {
    return new String(json, StandardCharsets.UTF_8).contains("flawed")
        ? List.of(new Finding(Severity.ERROR, "value", "Patient.name", "It is flawed."))
        : List.of();
  }

  @Override
  public boolean knows(String profile) {
    return profile.equals(KNOWN_PROFILE);
  }

  @Override
  public boolean ready() {
    return true;
  }
}
