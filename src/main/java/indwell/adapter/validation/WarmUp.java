package indwell.adapter.validation;

import indwell.port.ProfileValidator;
import indwell.port.ProfileValidator.Finding;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.util.List;

/** Validates one sample of each profile. */
final class WarmUp {
  private final List<byte[]> samples;
  private final ProfileValidator validator;

  WarmUp(List<String> profiles, ProfileValidator validator) {
    this.samples = profiles.stream().map(WarmUp::sample).toList();
    this.validator = validator;
  }

  /**
   * Once, so that every definition is prepared.
   *
   * @throws IllegalStateException if a sample is not valid
   */
  void once() {
    for (byte[] sample : samples) {
      for (Finding finding : validator.validate(sample)) {
        if (finding.isError()) {
          throw new IllegalStateException("A sample is not valid: " + finding.line());
        }
      }
    }
  }

  private static byte[] sample(String profile) {
    String name = "/fhir-profiles/cases/valid/" + profile + ".json";
    try (InputStream in = WarmUp.class.getResourceAsStream(name)) {
      if (in == null) {
        throw new IllegalStateException("The class path lacks " + name + ".");
      }
      return in.readAllBytes();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
