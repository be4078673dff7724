package indwell.web.events;

import io.vertx.core.buffer.Buffer;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.Optional;

/**
 * Answers that the client has not taken yet, in order. The first ones lie in memory, the rest in a
 * temporary file, so that a client may send without end and read nothing meanwhile. The file is
 * gone as soon as it is closed, by the operating system if need be.
 *
 * <p>One thread appends, another takes.
 */
final class AnswerSpool implements AutoCloseable {
  /** Small answers are put together up to this size. */
  private static final int CHUNK_BYTES = 16 * 1024;

  /** So much comes back from the file at once. */
  private static final int REFILL_BYTES = 256 * 1024;

  private final int mostInMemory;
  private final Path directory;
  private final Deque<Buffer> memory = new ArrayDeque<>();
  private long inMemory;
  private Optional<FileChannel> file = Optional.empty();
  private long readTo;
  private long writtenTo;
  private boolean closed;

  /**
   * @param mostInMemory bytes
   * @param directory where the file goes
   */
  AnswerSpool(int mostInMemory, Path directory) {
    this.mostInMemory = mostInMemory;
    this.directory = directory;
  }

  /**
   * Adds an answer behind the others.
   *
   * @throws UncheckedIOException when the file cannot be written
   */
  synchronized void append(byte[] answer) {
    if (closed) {
      return;
    }
    // Once there is a file, everything goes behind it until it has been read.
    if (onFile() || inMemory + answer.length > mostInMemory) {
      appendToFile(ByteBuffer.wrap(answer));
    } else {
      appendToMemory(answer);
    }
  }

  private void appendToMemory(byte[] answer) {
    Buffer last = memory.peekLast();
    if (last == null || last.length() + answer.length > CHUNK_BYTES) {
      memory.addLast(Buffer.buffer(answer));
    } else {
      last.appendBytes(answer);
    }
    inMemory += answer.length;
  }

  private void appendToFile(ByteBuffer bytes) {
    try {
      FileChannel channel = openFile();
      while (bytes.hasRemaining()) {
        writtenTo += channel.write(bytes, writtenTo);
      }
    } catch (IOException e) {
      throw new UncheckedIOException("Unread answers could not be kept", e);
    }
  }

  private FileChannel openFile() throws IOException {
    if (file.isEmpty()) {
      Path path = Files.createTempFile(directory, "indwell-answers-", ".ndjson");
      file =
          Optional.of(
              FileChannel.open(
                  path,
                  StandardOpenOption.READ,
                  StandardOpenOption.WRITE,
                  StandardOpenOption.DELETE_ON_CLOSE));
    }
    return file.get();
  }

  /** Takes what comes next, if it lies in memory. */
  synchronized Optional<Buffer> take() {
    Optional<Buffer> next = Optional.ofNullable(memory.pollFirst());
    next.ifPresent(buffer -> inMemory -= buffer.length());
    return next;
  }

  /** Whether {@link #refill} would bring something. */
  synchronized boolean onFile() {
    return writtenTo > readTo;
  }

  /** Whether everything has been taken. */
  synchronized boolean isEmpty() {
    return memory.isEmpty() && !onFile();
  }

  /**
   * Brings the next answers from the file into memory; waits for the disk.
   *
   * @throws UncheckedIOException when the file cannot be read
   */
  synchronized void refill() {
    if (closed || !onFile() || !memory.isEmpty()) {
      return;
    }
    try {
      FileChannel channel = file.orElseThrow();
      byte[] bytes = new byte[(int) Math.min(REFILL_BYTES, writtenTo - readTo)];
      ByteBuffer target = ByteBuffer.wrap(bytes);
      while (target.hasRemaining()) {
        int count = channel.read(target, readTo);
        if (count < 0) {
          throw new IOException("The file ended early");
        }
        readTo += count;
      }
      memory.addLast(Buffer.buffer(bytes));
      inMemory += bytes.length;
      startAnewWhenRead(channel);
    } catch (IOException e) {
      throw new UncheckedIOException("Unread answers could not be read back", e);
    }
  }

  private void startAnewWhenRead(FileChannel channel) throws IOException {
    if (readTo == writtenTo) {
      channel.truncate(0);
      readTo = 0;
      writtenTo = 0;
    }
  }

  /** Drops everything; what is appended from here on is dropped as well. */
  @Override
  public synchronized void close() {
    closed = true;
    memory.clear();
    inMemory = 0;
    readTo = 0;
    writtenTo = 0;
    try {
      if (file.isPresent()) {
        file.get().close();
      }
    } catch (IOException e) {
      throw new UncheckedIOException("The file of unread answers could not be closed", e);
    } finally {
      file = Optional.empty();
    }
  }
}
