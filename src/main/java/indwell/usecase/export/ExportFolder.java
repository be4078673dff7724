package indwell.usecase.export;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.channels.FileChannel;
import java.nio.channels.FileLock;
import java.nio.channels.OverlappingFileLockException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Pattern;
import java.util.stream.Stream;

/**
 * The folder with the files of exports, one folder a job, held by one process at a time. It has a
 * name of its own, because several services may share a database and each has its own folder.
 */
public final class ExportFolder implements AutoCloseable {
  private static final Pattern NAME = Pattern.compile("[A-Za-z0-9-]{1,40}\\.ndjson");

  private final Path root;
  private final FileChannel held;

  private ExportFolder(Path root, FileChannel held) {
    this.root = root;
    this.held = held;
  }

  /**
   * Opens it, and makes it when it is not there.
   *
   * @throws IllegalStateException when another process has it open
   * @throws UncheckedIOException when it cannot be made or written to
   */
  public static ExportFolder open(Path root) {
    try {
      Files.createDirectories(root);
      FileChannel channel =
          FileChannel.open(
              root.resolve("exports.lock"), StandardOpenOption.CREATE, StandardOpenOption.WRITE);
      if (!locked(channel)) {
        channel.close();
        throw new IllegalStateException(
            "Another process uses the folder of exports " + root + "; expected one of its own.");
      }
      return new ExportFolder(root.toAbsolutePath(), channel);
    } catch (IOException e) {
      throw new UncheckedIOException("The folder of exports " + root + " cannot be used.", e);
    }
  }

  /**
   * Its name among all folders of exports.
   *
   * @param unused a name that nobody has, taken when it has none yet
   */
  public String owner(String unused) {
    Path file = root.resolve("owner");
    try {
      if (!Files.exists(file)) {
        Files.writeString(file, unused);
        force(file);
      }
      return Files.readString(file);
    } catch (IOException e) {
      throw new UncheckedIOException("The folder of exports has no name.", e);
    }
  }

  /** An empty folder for the files of a job. */
  Path empty(String job) throws IOException {
    remove(job);
    return Files.createDirectory(root.resolve(job));
  }

  /** Sees to it that the names of the files of a job are on the disk. */
  void force(String job) throws IOException {
    force(root.resolve(job));
    force(root);
  }

  /** A whole file of a job. */
  Optional<Path> file(String job, String name) {
    Path file = root.resolve(job).resolve(name);
    return NAME.matcher(name).matches() && Files.isRegularFile(file)
        ? Optional.of(file)
        : Optional.empty();
  }

  /** Removes the files of a job; whoever has one open reads it to its end. */
  void remove(String job) throws IOException {
    Path folder = root.resolve(job);
    if (!Files.exists(folder)) {
      return;
    }
    List<Path> paths;
    try (Stream<Path> walk = Files.walk(folder)) {
      paths = walk.sorted(Comparator.reverseOrder()).toList();
    }
    for (Path path : paths) {
      Files.deleteIfExists(path);
    }
  }

  /** Removes the files of all jobs but these. */
  void removeOthers(Set<String> jobs) throws IOException {
    List<String> folders;
    try (Stream<Path> here = Files.list(root)) {
      folders = here.filter(Files::isDirectory).map(path -> path.getFileName().toString()).toList();
    }
    for (String folder : folders) {
      if (!jobs.contains(folder)) {
        remove(folder);
      }
    }
  }

  @Override
  public void close() {
    try {
      held.close();
    } catch (IOException e) {
      throw new UncheckedIOException("The folder of exports could not be released.", e);
    }
  }

  private static void force(Path path) throws IOException {
    try (FileChannel channel = FileChannel.open(path, StandardOpenOption.READ)) {
      channel.force(true);
    }
  }

  private static boolean locked(FileChannel channel) throws IOException {
    try {
      FileLock lock = channel.tryLock();
      return lock != null;
    } catch (OverlappingFileLockException e) {
      return false;
    }
  }
}
