package indwell.contract;

import io.zonky.test.db.postgres.embedded.DefaultPostgresBinaryResolver;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.DirectoryNotEmptyException;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.Locale;
import org.apache.commons.compress.archivers.tar.TarArchiveEntry;
import org.apache.commons.compress.archivers.tar.TarArchiveInputStream;
import org.apache.commons.compress.compressors.xz.XZCompressorInputStream;

/** Unpacks the server's programs from the test class path, once a machine. */
final class PostgresBinaries {
  private static final String RELEASE = "17.11.0";

  private PostgresBinaries() {}

  /** The folder with {@code bin/postgres}, readable by everybody. */
  static Path folder() throws IOException {
    Path temp = Path.of(System.getProperty("java.io.tmpdir"));
    Path folder =
        temp.resolve("indwell-test-postgres-" + RELEASE + "-" + System.getProperty("user.name"));
    if (!Files.isDirectory(folder)) {
      Path fresh = Files.createTempDirectory(temp, "indwell-test-postgres-");
      Files.setPosixFilePermissions(fresh, PosixFilePermissions.fromString("rwxr-xr-x"));
      unpack(fresh);
      moveUnlessThere(fresh, folder);
    }
    return folder;
  }

  /** Another test process may have been faster; its copy is as good. */
  private static void moveUnlessThere(Path fresh, Path folder) throws IOException {
    try {
      Files.move(fresh, folder, StandardCopyOption.ATOMIC_MOVE);
    } catch (FileAlreadyExistsException | DirectoryNotEmptyException e) {
      Folders.delete(fresh);
    }
  }

  private static void unpack(Path folder) throws IOException {
    try (InputStream packed =
            DefaultPostgresBinaryResolver.INSTANCE.getPgBinary(system(), architecture());
        TarArchiveInputStream tar =
            new TarArchiveInputStream(new XZCompressorInputStream(packed))) {
      for (TarArchiveEntry entry = tar.getNextEntry(); entry != null; entry = tar.getNextEntry()) {
        unpack(tar, entry, folder.resolve(entry.getName()));
      }
    }
  }

  private static void unpack(TarArchiveInputStream tar, TarArchiveEntry entry, Path target)
      throws IOException {
    if (entry.isDirectory()) {
      Files.createDirectories(target);
      return;
    }
    Files.createDirectories(target.getParent());
    if (entry.isSymbolicLink()) {
      Files.createSymbolicLink(target, Path.of(entry.getLinkName()));
      return;
    }
    Files.copy(tar, target);
    boolean program = (entry.getMode() & 0100) != 0;
    Files.setPosixFilePermissions(
        target, PosixFilePermissions.fromString(program ? "rwxr-xr-x" : "rw-r--r--"));
  }

  private static String system() {
    String name = System.getProperty("os.name").toLowerCase(Locale.ROOT);
    return name.startsWith("mac") ? "Darwin" : "Linux";
  }

  private static String architecture() {
    return switch (System.getProperty("os.arch")) {
      case "aarch64", "arm64" -> "arm_64";
      default -> "x86_64";
    };
  }
}
