package indwell.boot.cli;

import java.io.BufferedInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.function.Consumer;
import java.util.stream.Stream;

/** The files that the paths of a command name: themselves, or all JSON below a folder. */
final class InputFiles {
  private static final int CHUNK = 64 * 1024;

  private InputFiles() {}

  /**
   * Files in the order given, those of a folder by name.
   *
   * @throws UnusablePath for a path that is not there
   */
  static List<Path> of(List<Path> paths) {
    List<Path> files = new ArrayList<>();
    for (Path path : paths) {
      if (Files.isDirectory(path)) {
        files.addAll(below(path));
      } else if (Files.isReadable(path)) {
        files.add(path);
      } else {
        throw new UnusablePath("Cannot read " + path + "; expected a file or a folder.");
      }
    }
    return files;
  }

  private static List<Path> below(Path folder) {
    try (Stream<Path> all = Files.walk(folder)) {
      return all.filter(Files::isRegularFile).filter(InputFiles::isJson).sorted().toList();
    } catch (IOException failure) {
      throw new UnusablePath("Cannot read the folder " + folder + ".", failure);
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

  /** The whole file. */
  static byte[] bytes(Path file) {
    try {
      return Files.readAllBytes(file);
    } catch (IOException failure) {
      throw new UnusablePath("Cannot read " + file + ".", failure);
    }
  }

  /** Hands the file on in pieces, so that no file is too long. */
  static void pieces(Path file, Consumer<byte[]> take) {
    try (InputStream in = new BufferedInputStream(Files.newInputStream(file))) {
      byte[] piece = in.readNBytes(CHUNK);
      while (piece.length > 0) {
        take.accept(piece);
        piece = in.readNBytes(CHUNK);
      }
    } catch (IOException failure) {
      throw new UnusablePath("Cannot read " + file + ".", failure);
    }
  }

  /** Bytes of all files together, for a progress bar. */
  static long sizeOf(List<Path> files) {
    long size = 0;
    for (Path file : files) {
      size += file.toFile().length();
    }
    return size;
  }
}
