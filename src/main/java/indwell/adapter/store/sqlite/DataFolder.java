package indwell.adapter.store.sqlite;

import indwell.port.StoreUnavailable;
import java.io.IOException;
import java.nio.channels.FileChannel;
import java.nio.channels.FileLock;
import java.nio.channels.OverlappingFileLockException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.nio.file.attribute.BasicFileAttributes;
import java.util.Objects;
import java.util.Optional;
import org.jspecify.annotations.Nullable;

/**
 * The folder with the database, held by one process at a time: events and patients are locked
 * within the process, so a second one would write past those locks. The hold ends with the process,
 * however that ends.
 */
final class DataFolder implements AutoCloseable {
  private final Path database;
  private final FileChannel held;
  private Optional<Object> identity = Optional.empty();

  private DataFolder(Path database, FileChannel held) {
    this.database = database;
    this.held = held;
  }

  static DataFolder open(Path folder) {
    try {
      Files.createDirectories(folder);
      FileChannel channel =
          FileChannel.open(
              folder.resolve("indwell.lock"), StandardOpenOption.CREATE, StandardOpenOption.WRITE);
      if (!locked(channel)) {
        channel.close();
        throw new IllegalStateException("Another process uses the data folder " + folder + ".");
      }
      return new DataFolder(folder.resolve("indwell.db").toAbsolutePath(), channel);
    } catch (IOException e) {
      throw new StoreUnavailable("The data folder cannot be used.", e);
    }
  }

  Path database() {
    return database;
  }

  /** Remembers which file this is, once it is there. */
  void identify() {
    identity = Optional.ofNullable(fileKey());
  }

  /** False when the file was deleted or replaced: writes to it would be lost without an error. */
  boolean sameFile() {
    return identity.isEmpty() || Objects.equals(identity.get(), fileKey());
  }

  @Override
  public void close() {
    try {
      held.close();
    } catch (IOException e) {
      throw new StoreUnavailable("The data folder could not be released.", e);
    }
  }

  private @Nullable Object fileKey() {
    try {
      return Files.readAttributes(database, BasicFileAttributes.class).fileKey();
    } catch (IOException e) {
      return "missing";
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
