package indwell.boot.cli;

import java.nio.file.Path;
import java.util.Optional;

/**
 * A text that is to be one resource.
 *
 * @param file where it was read
 * @param line the first line of it, from 1
 * @param ofLines whether the file holds one resource a line
 * @param bytes empty when it is larger than is held in memory
 */
// The bytes are never compared or printed.
@SuppressWarnings("ArrayRecordComponent")
record SentText(Path file, long line, boolean ofLines, Optional<byte[]> bytes) {
  /** Bytes that one resource may have. */
  static final int MOST_BYTES = 16 * 1024 * 1024;

  /** The whole of a file, cut off one byte behind the most that is read. */
  static SentText document(Path file, byte[] whole) {
    return new SentText(
        file, 1, false, Optional.of(whole).filter(bytes -> bytes.length <= MOST_BYTES));
  }

  /** Bytes that it keeps in memory. */
  int size() {
    return bytes.map(held -> held.length).orElse(0);
  }
}
