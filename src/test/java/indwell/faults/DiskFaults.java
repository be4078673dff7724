package indwell.faults;

import indwell.contract.TestPostgres;
import indwell.port.ClinicalStore;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.FileStore;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.concurrent.Callable;
import java.util.function.Consumer;
import org.awaitility.Awaitility;

/**
 * The disk is full while events come in, and has room again later: a small file system in memory,
 * and a ballast on it that is taken away. Mounting one takes root; without that a line says that it
 * was not run.
 */
final class DiskFaults {
  private static final int LEFT_BYTES = 1_500_000;
  private static final Duration LONGEST = Duration.ofMinutes(1);

  private DiskFaults() {}

  static void run(long seed, int rounds, Consumer<Scenario.Line> tell) throws Exception {
    int times = Math.max(1, rounds / 50);
    for (String kind : Place.KINDS) {
      if (!System.getProperty("user.name").equals("root")) {
        tell.accept(new Scenario.Line(kind, "disk full: not run, takes root", 0, Aftermath.NONE));
        continue;
      }
      Aftermath all = Aftermath.NONE;
      for (int i = 0; i < times; i++) {
        try (SmallDisk disk = SmallDisk.mount()) {
          all = all.plus(round(kind, disk, seed + 9000 + i));
        }
      }
      tell.accept(new Scenario.Line(kind, "disk full", times, all));
    }
  }

  private static Aftermath round(String kind, SmallDisk disk, long seed) throws Exception {
    if (kind.equals("sqlite")) {
      return round(kind, disk.folder().resolve("data").toString(), disk, seed, () -> {});
    }
    // One segment of the log at a time is preallocated; the rest of the disk is for the tables.
    try (TestPostgres server =
        TestPostgres.startIn(disk.folder(), "max_wal_size=32MB", "min_wal_size=32MB")) {
      return round(kind, server.createDatabase(), disk, seed, server::resume);
    }
  }

  private interface Repair {
    void run() throws Exception;
  }

  private static Aftermath round(
      String kind, String where, SmallDisk disk, long seed, Repair restart) throws Exception {
    Round round = new Round(kind, where, seed);
    try (ClinicalStore store = Victim.open(kind, where)) {
      Sender sender = new Sender(store, seed, () -> Story.NOW, point -> {}, round::kept).start();
      waitUntil(() -> round.acknowledged() > 20);
      disk.fill(LEFT_BYTES);
      waitUntil(sender::standsStill);
      int before = round.acknowledged();
      disk.empty();
      // A server whose log found no room has ended; whoever runs it starts it again.
      restart.run();
      waitUntil(() -> round.acknowledged() > before + 20);
      sender.stop();
      return round.aftermath(store);
    }
  }

  private static void waitUntil(Callable<Boolean> condition) {
    Awaitility.await().atMost(LONGEST).pollInterval(Duration.ofMillis(10)).until(condition);
  }

  /** A file system of a fixed size. */
  private record SmallDisk(Path folder) implements AutoCloseable {
    private static final String SIZE = "size=160m";

    static SmallDisk mount() throws IOException, InterruptedException {
      Path folder = Files.createTempDirectory("indwell-disk-");
      run("mount", "-t", "tmpfs", "-o", SIZE + ",mode=1777", "tmpfs", folder.toString());
      return new SmallDisk(folder);
    }

    void fill(long left) throws IOException {
      FileStore disk = Files.getFileStore(folder);
      byte[] block = new byte[64 * 1024];
      try (OutputStream ballast = Files.newOutputStream(folder.resolve("ballast"))) {
        while (disk.getUsableSpace() > left) {
          ballast.write(block);
        }
      }
    }

    void empty() throws IOException {
      Files.delete(folder.resolve("ballast"));
    }

    @Override
    public void close() throws IOException, InterruptedException {
      run("umount", "--lazy", folder.toString());
      Files.delete(folder);
    }

    private static void run(String... command) throws IOException, InterruptedException {
      int code = new ProcessBuilder(command).inheritIO().start().waitFor();
      if (code != 0) {
        throw new IllegalStateException(String.join(" ", command) + " ended with " + code);
      }
    }
  }
}
