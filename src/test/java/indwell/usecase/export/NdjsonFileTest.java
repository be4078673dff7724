package indwell.usecase.export;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIOException;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.Future;
import java.util.concurrent.atomic.AtomicInteger;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A file of an export is there under its name only once all of it is on the disk. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class NdjsonFileTest {
  private static final int MEBIBYTE = 1 << 20;

  @TempDir Path folder;

  @Test
  void has_its_name_once_it_is_complete() throws IOException {
    try (DiskThread disk = new DiskThread();
        NdjsonFile file = NdjsonFile.begin(folder, "Device.ndjson", disk)) {
      file.add(utf8("{\"id\":\"ä\"}"));
      file.add(utf8("{}"));
      assertThat(folder.resolve("Device.ndjson")).doesNotExist();
      file.complete();
      assertThat(file.lines()).isEqualTo(2);
      assertThat(folder.resolve("Device.ndjson")).hasContent("{\"id\":\"ä\"}\n{}\n");
    }
    assertThat(folder.resolve("Device.ndjson.part")).doesNotExist();
  }

  @Test
  void is_sent_to_the_disk_while_it_is_written() throws IOException {
    AtomicInteger sent = new AtomicInteger();
    Disk disk = channel -> CompletableFuture.completedFuture(sent.incrementAndGet());
    try (NdjsonFile file = NdjsonFile.begin(folder, "Device.ndjson", disk)) {
      fill(file, 15);
      assertThat(sent).hasValue(0);
      fill(file, 2);
      assertThat(sent).hasValue(1);
      fill(file, 32);
      assertThat(sent).hasValue(3);
    }
  }

  @Test
  void is_sent_once_at_a_time() throws IOException {
    AtomicInteger sent = new AtomicInteger();
    Future<?> underWay = new CompletableFuture<>();
    Disk slow =
        channel -> {
          sent.incrementAndGet();
          return underWay;
        };
    try (NdjsonFile file = NdjsonFile.begin(folder, "Device.ndjson", slow)) {
      fill(file, 50);
      assertThat(sent).hasValue(1);
    }
  }

  /** The system tells of bytes that it lost only whoever sent them, and once. */
  @Test
  void never_gets_its_name_when_a_part_of_it_did_not_get_to_the_disk() throws IOException {
    IOException full = new IOException("No space left");
    Disk disk = channel -> CompletableFuture.failedFuture(full);
    try (NdjsonFile file = NdjsonFile.begin(folder, "Device.ndjson", disk)) {
      fill(file, 17);
      assertThatIOException().isThrownBy(file::complete).havingCause().isSameAs(full);
    }
    assertThat(folder.resolve("Device.ndjson")).doesNotExist();
  }

  @Test
  void a_disk_that_failed_is_not_written_to_any_further() throws IOException {
    Disk disk = channel -> CompletableFuture.failedFuture(new IOException("No space left"));
    try (NdjsonFile file = NdjsonFile.begin(folder, "Device.ndjson", disk)) {
      fill(file, 17);
      assertThatIOException().isThrownBy(() -> fill(file, 17));
    }
    assertThat(Files.size(folder.resolve("Device.ndjson.part"))).isLessThan(40L * MEBIBYTE);
  }

  private static void fill(NdjsonFile file, int mebibytes) throws IOException {
    byte[] line = new byte[MEBIBYTE - 1];
    for (int i = 0; i < mebibytes; i++) {
      file.add(line);
    }
  }

  private static byte[] utf8(String text) {
    return text.getBytes(StandardCharsets.UTF_8);
  }
}
