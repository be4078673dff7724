package indwell.boot.cli;

import java.io.IOException;
import java.nio.file.FileVisitResult;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.SimpleFileVisitor;
import java.nio.file.attribute.BasicFileAttributes;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/**
 * The files that the paths of a command name: themselves, or all JSON and NDJSON below a folder.
 *
 * @param files in the order given, those of a folder by name; what cannot be looked at is among
 *     them, so that reading it tells of it
 * @param passedOver files below a folder that are neither by their name
 */
record InputFiles(List<Path> files, List<Path> passedOver) {

  /**
   * Looks up the paths. Links to folders are not followed.
   *
   * @throws UnusablePath for a path that is not there or may not be read
   */
  static InputFiles of(List<Path> paths) {
    InputFiles found = new InputFiles(new ArrayList<>(), new ArrayList<>());
    for (Path path : paths) {
      if (Files.isDirectory(path)) {
        found.addBelow(path);
      } else if (Files.isReadable(path)) {
        found.files.add(path);
      } else {
        throw new UnusablePath("Cannot read " + path + "; expected a file or a folder.");
      }
    }
    return found;
  }

  private void addBelow(Path folder) {
    List<Path> below = new ArrayList<>();
    try {
      Files.walkFileTree(folder, new Below(below));
    } catch (IOException failure) {
      throw new UnusablePath("Cannot read the folder " + folder + ".", failure);
    }
    below.sort(null);
    below.forEach(file -> (isJson(file) || isFolder(file) ? files : passedOver).add(file));
  }

  /** A folder that stands among files is one that could not be looked into. */
  private static boolean isFolder(Path file) {
    return Files.isDirectory(file) && !Files.isSymbolicLink(file);
  }

  private static final class Below extends SimpleFileVisitor<Path> {
    private final List<Path> found;

    Below(List<Path> found) {
      this.found = found;
    }

    @Override
    public FileVisitResult visitFile(Path file, BasicFileAttributes attributes) {
      // A link that leads nowhere is taken, so that it is told of; a pipe would be waited for.
      if (Files.isRegularFile(file) || !Files.exists(file)) {
        found.add(file);
      }
      return FileVisitResult.CONTINUE;
    }

    @Override
    public FileVisitResult visitFileFailed(Path file, IOException failure) {
      found.add(file);
      return FileVisitResult.CONTINUE;
    }
  }

  private static boolean isJson(Path file) {
    return isNdjson(file) || name(file).endsWith(".json");
  }

  /** Whether the file holds one JSON object a line, by its name. */
  static boolean isNdjson(Path file) {
    return name(file).endsWith(".ndjson") || name(file).endsWith(".jsonl");
  }

  private static String name(Path file) {
    Path last = file.getFileName();
    return last == null ? "" : last.toString().toLowerCase(Locale.ROOT);
  }

  /** Bytes of all files together, for a progress bar. */
  long size() {
    return files.stream().mapToLong(file -> file.toFile().length()).sum();
  }
}
