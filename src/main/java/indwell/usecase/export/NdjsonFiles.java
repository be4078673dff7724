package indwell.usecase.export;

import indwell.port.ExportFile;
import indwell.port.ExportFile.Kind;
import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.channels.Channels;
import java.nio.channels.FileChannel;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * Writes the resources of one type, one a line, into as many files as it takes. A file has its name
 * only once it is whole and on the disk.
 */
final class NdjsonFiles implements AutoCloseable {
  private static final int BUFFER = 1 << 16;

  private final Path folder;
  private final Kind kind;
  private final String type;
  private final long linesPerFile;
  private final List<ExportFile> whole = new ArrayList<>();
  private Optional<Open> open = Optional.empty();
  private long lines;

  private record Open(Path part, FileChannel channel, OutputStream out) {}

  NdjsonFiles(Path folder, Kind kind, String type, long linesPerFile) {
    this.folder = folder;
    this.kind = kind;
    this.type = type;
    this.linesPerFile = linesPerFile;
  }

  void add(byte[] line) throws IOException {
    if (open.isEmpty()) {
      open = Optional.of(begin());
    }
    OutputStream out = open.orElseThrow().out();
    out.write(line);
    out.write('\n');
    lines++;
    if (lines == linesPerFile) {
      complete();
    }
  }

  /** Completes the last file; the files in their order, none when there was no line. */
  List<ExportFile> finish() throws IOException {
    complete();
    return List.copyOf(whole);
  }

  /** Lets an incomplete file go; it never gets its name. */
  @Override
  public void close() throws IOException {
    if (open.isPresent()) {
      open.orElseThrow().channel().close();
    }
  }

  private Open begin() throws IOException {
    Path part = folder.resolve(name() + ".part");
    FileChannel channel =
        FileChannel.open(
            part,
            StandardOpenOption.CREATE,
            StandardOpenOption.TRUNCATE_EXISTING,
            StandardOpenOption.WRITE);
    return new Open(
        part, channel, new BufferedOutputStream(Channels.newOutputStream(channel), BUFFER));
  }

  private void complete() throws IOException {
    if (open.isEmpty()) {
      return;
    }
    Open file = open.orElseThrow();
    file.out().flush();
    file.channel().force(true);
    file.channel().close();
    Files.move(file.part(), folder.resolve(name()), StandardCopyOption.ATOMIC_MOVE);
    whole.add(new ExportFile(kind, type, name(), lines));
    open = Optional.empty();
    lines = 0;
  }

  private String name() {
    String prefix = kind == Kind.OUTPUT ? "" : kind == Kind.ERROR ? "error-" : "deleted-";
    return prefix + type + "-" + (whole.size() + 1) + ".ndjson";
  }
}
