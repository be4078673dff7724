package indwell.contract;

import static indwell.contract.Samples.catheter;
import static indwell.contract.Samples.event;
import static indwell.contract.Samples.inpatient;
import static indwell.contract.Samples.key;
import static indwell.contract.Samples.resource;

import indwell.adapter.store.postgres.PostgresStore;
import indwell.adapter.store.sqlite.SqliteStore;
import indwell.port.ClinicalStore;
import indwell.port.ClinicalStore.Writing;
import indwell.port.PatientIndex;
import indwell.port.ResourceKey;
import indwell.port.StoreUnavailable;
import indwell.port.StoredResource;
import java.nio.file.Path;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;

/**
 * A process of its own that records one event after the other and says so, a line each, only when
 * the store has answered. It is there to be killed.
 */
final class AckingWriter {
  static final ResourceKey SHARED = new ResourceKey("Encounter", "stay");

  private AckingWriter() {}

  /**
   * @param args {@code sqlite FOLDER} or {@code postgres URL}
   */
  public static void main(String[] args) {
    try (ClinicalStore store = open(args[0], args[1])) {
      for (int n = 1; ; n++) {
        record(store, n);
        System.out.println(n);
      }
    } catch (StoreUnavailable e) {
      System.out.println("unavailable");
    }
  }

  static String eventId(int n) {
    return "E-" + n;
  }

  private static void record(ClinicalStore store, int n) {
    store.write(
        w -> {
          w.lockEvent(key(eventId(n)));
          w.lockPatients(new TreeSet<>(Set.of("pat-1")));
          return write(w, n);
        });
  }

  /** An event makes a resource of its own and a version of one that all of them share. */
  private static boolean write(Writing w, int n) {
    int version = w.resource(SHARED).map(StoredResource::version).orElse(0) + 1;
    w.append(event(eventId(n), 1, "pat-1"));
    w.put(resource("Procedure", "p" + n, 1, "pat-1", "s|" + eventId(n)));
    w.put(resource(SHARED.type(), SHARED.id(), version, "pat-1"));
    w.index(
        "pat-1",
        new PatientIndex(
            List.of(inpatient("W-" + n, "08:00", "open")), List.of(catheter("08:00", "open"))));
    return true;
  }

  private static ClinicalStore open(String kind, String where) {
    return kind.equals("sqlite")
        ? SqliteStore.open(Path.of(where))
        : PostgresStore.open(where, TestPostgres.USER, TestPostgres.PASSWORD);
  }
}
