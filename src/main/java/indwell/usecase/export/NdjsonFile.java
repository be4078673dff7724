package indwell.usecase.export;

import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.InterruptedIOException;
import java.io.OutputStream;
import java.nio.channels.Channels;
import java.nio.channels.FileChannel;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.Future;

/** A file of lines, which has its name only once it is whole and on the disk. */
final class NdjsonFile implements AutoCloseable {
  private static final int BUFFER = 1 << 16;

  /** Bytes after which they are sent to the disk, chosen here: a fraction of a second's writing. */
  private static final long UNSENT = 16L << 20;

  private final Path name;
  private final Path part;
  private final Disk disk;
  private final FileChannel channel;
  private final OutputStream out;
  private Future<?> sent = CompletableFuture.completedFuture(null);
  private long unsent;
  private long lines;

  private NdjsonFile(Path name, Path part, Disk disk, FileChannel channel) {
    this.name = name;
    this.part = part;
    this.disk = disk;
    this.channel = channel;
    this.out = new BufferedOutputStream(Channels.newOutputStream(channel), BUFFER);
  }

  /** Begins one; its folder is there. */
  static NdjsonFile begin(Path folder, String name, Disk disk) throws IOException {
    Path part = folder.resolve(name + ".part");
    FileChannel channel =
        FileChannel.open(
            part,
            StandardOpenOption.CREATE,
            StandardOpenOption.TRUNCATE_EXISTING,
            StandardOpenOption.WRITE);
    return new NdjsonFile(folder.resolve(name), part, disk, channel);
  }

  void add(byte[] line) throws IOException {
    out.write(line);
    out.write('\n');
    lines++;
    unsent += line.length + 1L;
    if (unsent >= UNSENT && sent.isDone()) {
      requireSent();
      sent = disk.send(channel);
      unsent = 0;
    }
  }

  long lines() {
    return lines;
  }

  /** Gives it its name. */
  void complete() throws IOException {
    out.flush();
    requireSent();
    channel.force(true);
    channel.close();
    Files.move(part, name, StandardCopyOption.ATOMIC_MOVE);
  }

  /** Of bytes that did not get there the system tells only whoever sent them. */
  private void requireSent() throws IOException {
    try {
      sent.get();
    } catch (ExecutionException e) {
      throw new IOException("A file did not get to the disk.", e.getCause());
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new InterruptedIOException();
    }
  }

  /** Lets it go; unless it is complete it never gets its name. */
  @Override
  public void close() throws IOException {
    channel.close();
  }
}
