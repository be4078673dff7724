package indwell.web;

import java.io.ByteArrayOutputStream;
import java.io.EOFException;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.net.InetAddress;
import java.net.Socket;
import java.net.SocketException;
import java.nio.charset.StandardCharsets;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;

/** HTTP/1.1 by hand over a socket: what a client library would smooth over stays visible. */
public final class RawHttp implements AutoCloseable {
  private final Socket socket;
  private final InputStream in;

  /** Connects to a port of this machine; a read that takes 20 seconds fails. */
  public RawHttp(int port) throws IOException {
    socket = new Socket(InetAddress.getLoopbackAddress(), port);
    socket.setSoTimeout(20_000);
    socket.setTcpNoDelay(true);
    // Without this the sockets may swallow megabytes, and back pressure would be felt late.
    socket.setSendBufferSize(64 << 10);
    in = socket.getInputStream();
  }

  /** Head of an answer. */
  public record Head(int status, Map<String, String> headers) {
    public String header(String name) {
      return headers.get(name.toLowerCase(Locale.ROOT));
    }
  }

  /** A whole answer with a body of stated length. */
  public record Answer(Head head, String body) {
    public int status() {
      return head.status();
    }
  }

  public RawHttp send(String text) throws IOException {
    return send(text.getBytes(StandardCharsets.UTF_8));
  }

  public RawHttp send(byte[] bytes) throws IOException {
    socket.getOutputStream().write(bytes);
    return this;
  }

  /** Sends bytes as one chunk. */
  public RawHttp chunk(String text) throws IOException {
    byte[] bytes = text.getBytes(StandardCharsets.UTF_8);
    send(Integer.toHexString(bytes.length) + "\r\n");
    send(bytes);
    return send("\r\n");
  }

  public RawHttp lastChunk() throws IOException {
    return send("0\r\n\r\n");
  }

  /** Reads a line without its end. */
  public String line() throws IOException {
    ByteArrayOutputStream line = new ByteArrayOutputStream();
    while (true) {
      int one = in.read();
      if (one < 0) {
        throw new EOFException("Connection ended after: " + line.toString(StandardCharsets.UTF_8));
      }
      if (one == '\n') {
        return line.toString(StandardCharsets.UTF_8).replaceAll("\r$", "");
      }
      line.write(one);
    }
  }

  public Head head() throws IOException {
    String[] status = line().split(" ", 3);
    Map<String, String> headers = new TreeMap<>();
    for (String header = line(); !header.isEmpty(); header = line()) {
      int colon = header.indexOf(':');
      headers.put(
          header.substring(0, colon).toLowerCase(Locale.ROOT), header.substring(colon + 1).trim());
    }
    return new Head(Integer.parseInt(status[1]), headers);
  }

  public Answer answer() throws IOException {
    Head head = head();
    String length = head.header("Content-Length");
    byte[] body = in.readNBytes(length == null ? 0 : Integer.parseInt(length));
    return new Answer(head, new String(body, StandardCharsets.UTF_8));
  }

  /**
   * Reads the next chunk.
   *
   * @return empty for the final chunk
   */
  public String nextChunk() throws IOException {
    int length = Integer.parseInt(line().trim(), 16);
    String content = new String(in.readNBytes(length), StandardCharsets.UTF_8);
    line();
    return content;
  }

  /** All chunks up to the final one. */
  public String allChunks() throws IOException {
    StringBuilder body = new StringBuilder();
    for (String chunk = nextChunk(); !chunk.isEmpty(); chunk = nextChunk()) {
      body.append(chunk);
    }
    return body.toString();
  }

  /** How many bytes of a body come next, up to so many; 0 at the end of the connection. */
  public int bytes(int most) throws IOException {
    return in.readNBytes(most).length;
  }

  /** Whether the other side has closed, waiting for it. */
  public boolean ended() throws IOException {
    return in.read() < 0;
  }

  /** What else comes until the other side has closed, waiting for that. */
  public String rest() throws IOException {
    return new String(in.readAllBytes(), StandardCharsets.ISO_8859_1);
  }

  /** Closes this side and waits until the other one has closed, too. */
  public void hangUp() throws IOException {
    try (socket) {
      socket.shutdownOutput();
      in.transferTo(OutputStream.nullOutputStream());
    } catch (SocketException gone) {
      // The other side was first.
    }
  }

  @Override
  public void close() throws IOException {
    socket.close();
  }
}
