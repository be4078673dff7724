package indwell.adapter.validation;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import indwell.port.ProfileValidator;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** Samples are validated by several threads, and one that is not valid stops the start. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class WarmUpTest {
  private static final List<String> PROFILES =
      List.of("catheter-insertion", "catheter-removal", "catheter-device");

  private final Set<String> seen = ConcurrentHashMap.newKeySet();

  @Test
  void each_sample_is_validated_by_one_of_the_threads() {
    new WarmUp(PROFILES, finding(List.of())).onceBy(2);
    assertThat(seen).hasSameSizeAs(PROFILES);
  }

  @Test
  void a_sample_that_is_not_valid_is_a_defect() {
    ProfileValidator.Finding error = Findings.unknownProfile("none");
    assertThatThrownBy(() -> new WarmUp(PROFILES, finding(List.of(error))).onceBy(2))
        .isInstanceOf(IllegalStateException.class)
        .hasMessageStartingWith("A sample is not valid: ")
        .hasMessageContaining("none");
  }

  private ProfileValidator finding(List<ProfileValidator.Finding> findings) {
    return new ProfileValidator() {
      @Override
      public List<Finding> validate(byte[] json, List<String> profiles) {
        seen.add(new String(json, StandardCharsets.UTF_8));
        return findings;
      }

      @Override
      public boolean knows(String profile) {
        return true;
      }
    };
  }
}
