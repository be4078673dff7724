package indwell.contract;

import static indwell.contract.Samples.catheter;
import static indwell.contract.Samples.counted;
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
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;

/**
 * A process of its own that records events on several threads and says so, a line each, only when
 * the store has answered. It is there to be killed.
 */
final class AckingWriter {
  static final int THREADS = 4;

  private AckingWriter() {}

  /**
   * @param args {@code sqlite FOLDER} or {@code postgres URL}
   */
  public static void main(String[] args) throws InterruptedException {
    List<Thread> threads = new ArrayList<>();
    try (ClinicalStore store = open(args[0], args[1])) {
      for (int t = 1; t <= THREADS; t++) {
        int thread = t;
        threads.add(new Thread(() -> record(store, thread)));
      }
      threads.forEach(Thread::start);
      for (Thread thread : threads) {
        thread.join();
      }
    }
  }

  static String patient(int thread) {
    return "pat-" + thread;
  }

  static String eventId(int thread, int n) {
    return "E-" + thread + "-" + n;
  }

  static String ward(int thread, int n) {
    return "W-" + thread + "-" + n;
  }

  /** All events of a thread write it, each a version. */
  static ResourceKey shared(int thread) {
    return new ResourceKey("Encounter", "stay-" + thread);
  }

  private static void record(ClinicalStore store, int thread) {
    try {
      for (int n = 1; ; n++) {
        int number = n;
        store.write(
            w -> {
              w.lockEvents(new TreeSet<>(Set.of(key(eventId(thread, number)))));
              w.lockPatients(new TreeSet<>(Set.of(patient(thread))));
              return write(w, thread, number);
            });
        System.out.println(thread + " " + n);
      }
    } catch (StoreUnavailable e) {
      System.out.println("unavailable");
    }
  }

  private static boolean write(Writing w, int thread, int n) {
    String patient = patient(thread);
    ResourceKey shared = shared(thread);
    int version = w.resource(shared).map(StoredResource::version).orElse(0) + 1;
    w.append(event(eventId(thread, n), 1, patient));
    w.put(resource("Procedure", "p" + thread + "-" + n, 1, patient, "s|" + eventId(thread, n)));
    w.put(resource(shared.type(), shared.id(), version, patient));
    w.index(
        patient,
        Optional.empty(),
        new PatientIndex(
            List.of(inpatient(ward(thread, n), "08:00", "open")),
            List.of(catheter("08:00", "open")),
            List.of(counted(ward(thread, n), "08:00", "open", "08:00", "open"))));
    return true;
  }

  private static ClinicalStore open(String kind, String where) {
    return kind.equals("sqlite")
        ? SqliteStore.open(Path.of(where))
        : PostgresStore.open(where, TestPostgres.USER, TestPostgres.PASSWORD);
  }
}
