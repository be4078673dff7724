package indwell.usecase.export;

import indwell.port.ExportFile;
import indwell.port.ExportFile.Kind;
import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** Writes the resources of one type, one a line, into as many files as it takes. */
final class NdjsonFiles implements AutoCloseable {
  private final Path folder;
  private final Kind kind;
  private final String type;
  private final long linesPerFile;
  private final Disk disk;
  private final List<ExportFile> whole = new ArrayList<>();
  private Optional<NdjsonFile> open = Optional.empty();

  NdjsonFiles(Path folder, Kind kind, String type, long linesPerFile, Disk disk) {
    this.folder = folder;
    this.kind = kind;
    this.type = type;
    this.linesPerFile = linesPerFile;
    this.disk = disk;
  }

  void add(byte[] line) throws IOException {
    if (open.isEmpty()) {
      open = Optional.of(NdjsonFile.begin(folder, name(), disk));
    }
    NdjsonFile file = open.orElseThrow();
    file.add(line);
    if (file.lines() == linesPerFile) {
      complete();
    }
  }

  /** Completes the last file; the files in their order, none when there was no line. */
  List<ExportFile> finish() throws IOException {
    complete();
    return List.copyOf(whole);
  }

  /** Lets an incomplete file go. */
  @Override
  public void close() throws IOException {
    if (open.isPresent()) {
      open.orElseThrow().close();
    }
  }

  private void complete() throws IOException {
    if (open.isEmpty()) {
      return;
    }
    NdjsonFile file = open.orElseThrow();
    file.complete();
    whole.add(new ExportFile(kind, type, name(), file.lines()));
    open = Optional.empty();
  }

  private String name() {
    String prefix = kind == Kind.OUTPUT ? "" : kind == Kind.ERROR ? "error-" : "deleted-";
    return prefix + type + "-" + (whole.size() + 1) + ".ndjson";
  }
}
