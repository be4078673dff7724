package indwell.boot.pack;

import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.Map;
import java.util.SortedMap;
import org.apache.commons.compress.archivers.tar.TarArchiveEntry;
import org.apache.commons.compress.archivers.tar.TarArchiveOutputStream;
import org.apache.commons.compress.compressors.gzip.GzipCompressorOutputStream;
import org.apache.commons.compress.compressors.gzip.GzipParameters;

/** Writes files as a tar that gzip made smaller; the same files always give the same bytes. */
final class Tarball {
  private static final int READABLE = 0100644;

  /** So that it does not tell on which system it was made; RFC 1952: unknown. */
  private static final int NO_SYSTEM = 255;

  private Tarball() {}

  /**
   * Writes it.
   *
   * @param files content by path, in the order of the paths
   * @param at the time that all files carry
   */
  static void write(Path target, SortedMap<String, byte[]> files, Instant at) throws IOException {
    GzipParameters parameters = new GzipParameters();
    parameters.setOperatingSystem(NO_SYSTEM);
    try (OutputStream file = new BufferedOutputStream(Files.newOutputStream(target));
        GzipCompressorOutputStream gzip = new GzipCompressorOutputStream(file, parameters);
        TarArchiveOutputStream tar = new TarArchiveOutputStream(gzip, "UTF-8")) {
      tar.setLongFileMode(TarArchiveOutputStream.LONGFILE_POSIX);
      for (Map.Entry<String, byte[]> one : files.entrySet()) {
        tar.putArchiveEntry(entry(one.getKey(), one.getValue().length, at));
        tar.write(one.getValue());
        tar.closeArchiveEntry();
      }
    }
  }

  private static TarArchiveEntry entry(String path, int size, Instant at) {
    TarArchiveEntry entry = new TarArchiveEntry(path);
    entry.setSize(size);
    entry.setMode(READABLE);
    entry.setIds(0, 0);
    entry.setNames("", "");
    entry.setModTime(at.toEpochMilli());
    return entry;
  }
}
