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
import indwell.port.StoredResource;
import java.util.stream.IntStream;

/** What must be there after a crash: all that was acknowledged, and nothing by halves. */
final class SurvivalChecks {
  private SurvivalChecks() {}

  /**
   * @param acknowledged number of events that the writer was told are kept; one more may be there,
   *     whose answer was lost
   */
  static void allThere(ClinicalStore store, int acknowledged) {
    Reading now = Now.of(store);
    int kept = now.currentEvents("pat-1").size();
    assertThat(kept).isBetween(acknowledged, acknowledged + 1);
    assertThat(IntStream.rangeClosed(1, kept))
        .allSatisfy(
            n ->
                assertThat(now.versionsOf(key(AckingWriter.eventId(n))))
                    .containsExactly(event(AckingWriter.eventId(n), 1, "pat-1")));
    wholeTransactions(now, kept);
  }

  private static void wholeTransactions(Reading now, int kept) {
    assertThat(now.count(all("Procedure"))).isEqualTo(kept);
    assertThat(now.count(identified("Procedure", "s|"))).isEqualTo(kept);
    assertThat(now.history(AckingWriter.SHARED)).hasSize(kept);
    assertThat(now.resource(AckingWriter.SHARED)).map(StoredResource::version).contains(kept);
    assertThat(now.inpatientWards()).containsExactly(new Ward("W-" + kept));
  }

  /** The next event is taken as if nothing had happened. */
  static void takesTheNext(ClinicalStore store) {
    StoredEvent next = event("E-next", 1, "pat-2");
    assertThat(store.available()).isTrue();
    store.write(
        w -> {
          w.append(next);
          return true;
        });
    assertThat(Now.of(store).currentEvents("pat-2")).containsExactly(next);
  }
}
