package indwell.web.health;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.adapter.store.memory.MemoryStore;
import indwell.contract.ForwardingStore;
import indwell.contract.Satisfied;
import org.eclipse.microprofile.health.HealthCheckResponse;
import org.eclipse.microprofile.health.HealthCheckResponse.Status;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

@DisplayNameGeneration(ReplaceUnderscores.class)
class ReadyCheckTest {
  /** Whoever would be turned away should be sent elsewhere; and the check waits with nobody. */
  @Test
  void while_nobody_gets_on_with_the_store_the_service_is_not_ready() {
    ForwardingStore crowded =
        new ForwardingStore(new MemoryStore()) {
          @Override
          public boolean crowded() {
            return true;
          }

          @Override
          public boolean available() {
            throw new AssertionError("It was asked for a connection more.");
          }
        };

    HealthCheckResponse answer = new ReadyCheck(crowded, new Satisfied()).call();

    assertThat(answer.getStatus()).isEqualTo(Status.DOWN);
    assertThat(answer.getData().orElseThrow()).containsEntry("store", "crowded");
  }

  @Test
  void with_a_store_and_a_warm_validator_it_is() {
    HealthCheckResponse answer = new ReadyCheck(new MemoryStore(), new Satisfied()).call();

    assertThat(answer.getStatus()).isEqualTo(Status.UP);
    assertThat(answer.getData().orElseThrow()).containsEntry("store", "available");
  }
}
