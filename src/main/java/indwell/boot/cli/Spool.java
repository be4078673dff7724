package indwell.boot.cli;

import java.io.BufferedReader;
import java.io.BufferedWriter;
import java.io.IOException;
import java.io.Writer;
import java.nio.file.Files;
import java.nio.file.Path;

/** Text that waits on the disk until it is known what stands in front of it. */
final class Spool {
  private final Path file;
  private final BufferedWriter writer;

  Spool() throws IOException {
    this.file = Files.createTempFile("indwell-report", ".xml");
    file.toFile().deleteOnExit();
    this.writer = Files.newBufferedWriter(file);
  }

  Writer writer() {
    return writer;
  }

  /** Hands all of it on and is gone. */
  void moveTo(Writer out) throws IOException {
    writer.close();
    try (BufferedReader reader = Files.newBufferedReader(file)) {
      reader.transferTo(out);
    }
    Files.delete(file);
  }
}
