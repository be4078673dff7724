package indwell.boot;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import indwell.port.ProfileValidator.Finding;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** Who asks before the validator is made, and when it cannot be. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class WarmingValidatorTest {
  private static final byte[] PATIENT =
      "{\"resourceType\": \"Patient\"}".getBytes(StandardCharsets.UTF_8);

  @Test
  void is_not_ready_before_it_is_made_and_whoever_asks_waits() {
    CompletableFuture<Boolean> made = new CompletableFuture<>();
    WarmingValidator warming =
        new WarmingValidator(
            () -> {
              made.join();
              return Validators.warm();
            });
    assertThat(warming.ready()).isFalse();
    CompletableFuture<List<Finding>> asked =
        CompletableFuture.supplyAsync(() -> warming.validate(PATIENT));
    assertThat(asked).isNotDone();

    made.complete(true);

    assertThat(asked.join()).noneMatch(Finding::isError);
    assertThat(warming.ready()).isTrue();
  }

  @Test
  void is_never_ready_when_it_cannot_be_made_and_says_so_to_whoever_asks() {
    WarmingValidator failing =
        new WarmingValidator(
            () -> {
              throw new IllegalStateException("no definitions");
            });
    assertThatThrownBy(() -> failing.validate(PATIENT)).hasRootCauseMessage("no definitions");
    assertThat(failing.ready()).isFalse();
  }

  /** Both halves of a start run side by side only if nobody makes a second one. */
  @Test
  void there_is_one_in_a_process() {
    WarmingValidator one = WarmingValidator.ofThisProcess();
    assertThat(one.validate(PATIENT)).noneMatch(Finding::isError);
    assertThat(WarmingValidator.ofThisProcess()).isSameAs(one);
  }
}
