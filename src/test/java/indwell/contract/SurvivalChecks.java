package indwell.contract;

import static indwell.contract.Samples.all;
import static indwell.contract.Samples.event;
import static indwell.contract.Samples.identified;
import static indwell.contract.Samples.key;
import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.event.Ward;
import indwell.port.ClinicalStore;
import indwell.port.ClinicalStore.Reading;
import indwell.port.StoredEvent;
import java.util.HashSet;
import java.util.Set;

/** What must be there after a crash: all that was acknowledged, and nothing by halves. */
final class SurvivalChecks {
  private SurvivalChecks() {}

  /**
   * @param acknowledged for each thread the number of events that it was told are kept; one more
   *     may be there, whose answer was lost
   */
  static void allThere(ClinicalStore store, int[] acknowledged) {
    Reading now = Now.of(store);
    int all = 0;
    Set<Ward> wards = new HashSet<>();
    for (int thread = 1; thread <= acknowledged.length; thread++) {
      int kept = now.currentEvents(AckingWriter.patient(thread)).size();
      assertThat(kept).isBetween(acknowledged[thread - 1], acknowledged[thread - 1] + 1);
      contentOf(now, thread, kept);
      all += kept;
      if (kept > 0) {
        wards.add(new Ward(AckingWriter.ward(thread, kept)));
      }
    }
    assertThat(now.count(all("Procedure"))).isEqualTo(all);
    assertThat(now.count(identified("Procedure", "s|"))).isEqualTo(all);
    assertThat(now.inpatientWards()).containsExactlyInAnyOrderElementsOf(wards);
  }

  private static void contentOf(Reading now, int thread, int kept) {
    String patient = AckingWriter.patient(thread);
    for (int n = 1; n <= kept; n++) {
      String eventId = AckingWriter.eventId(thread, n);
      assertThat(now.versionsOf(key(eventId))).containsExactly(event(eventId, 1, patient));
    }
    assertThat(now.history(AckingWriter.shared(thread))).hasSize(kept);
  }

  /** The next event is taken as if nothing had happened. */
  static void takesTheNext(ClinicalStore store) {
    StoredEvent next = event("E-next", 1, "pat-99");
    assertThat(store.available()).isTrue();
    store.write(
        w -> {
          w.append(next);
          return true;
        });
    assertThat(Now.of(store).currentEvents("pat-99")).containsExactly(next);
  }
}
