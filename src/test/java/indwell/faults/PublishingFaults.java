package indwell.faults;

import indwell.adapter.store.jdbc.JdbcStore;
import indwell.usecase.publish.Addressing;
import indwell.usecase.publish.Bench;
import indwell.usecase.publish.FakeHospital;
import indwell.usecase.publish.Fault;
import java.util.Map;
import java.util.function.Consumer;

/**
 * The service ends while it publishes, and the hospital answers one request in seven with a fault
 * or not at all. Afterwards another process sends what waits, and the hospital has to have what is
 * here, each resource never older than it had it before.
 */
final class PublishingFaults {
  private static final int[] HITS = {1, 3, 20};
  private static final int IN_HUNDRED = 15;

  private PublishingFaults() {}

  static void run(long seed, int rounds, Consumer<Scenario.Line> tell) throws Exception {
    for (String kind : Place.KINDS) {
      for (Point point : Point.ofPublishing()) {
        Aftermath all = Aftermath.NONE;
        for (int hit : HITS) {
          all = all.plus(once(kind, seed + 11_000 + hit, point, hit, 0));
        }
        tell.accept(new Scenario.Line(kind, "killed at " + point, HITS.length, all));
      }
      int times = Math.max(1, rounds / 40);
      Aftermath all = Aftermath.NONE;
      for (int i = 0; i < times; i++) {
        all = all.plus(once(kind, seed + 12_000 + i, Point.SENT, 15, IN_HUNDRED));
      }
      tell.accept(new Scenario.Line(kind, "the same, hospital at fault", times, all));
    }
  }

  static Aftermath once(String kind, long seed, Point point, int hit, int inHundred)
      throws Exception {
    try (Place place = Place.of(kind);
        FakeHospital hospital = new FakeHospital(false)) {
      hospital.script = Fault.passing(seed, inHundred);
      Aftermath aftermath =
          place.round(seed).endingAt(point, hit, Map.of("hospital", hospital.base()));
      try (JdbcStore store = Victim.open(kind, place.where());
          Bench bench = new Bench(store, Addressing.OURS, hospital)) {
        bench.publisher(seed);
        while (!bench.drained()) {
          Thread.sleep(10);
        }
        return aftermath.unpublished(bench.differing().size() + bench.backwards().size());
      }
    }
  }
}
