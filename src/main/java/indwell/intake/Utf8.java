package indwell.intake;

import java.nio.ByteBuffer;
import java.nio.CharBuffer;
import java.nio.charset.CharsetDecoder;
import java.nio.charset.CoderResult;
import java.nio.charset.CodingErrorAction;
import java.nio.charset.StandardCharsets;
import java.util.OptionalInt;

/** Strict UTF-8: no overlong forms, no encoded surrogates, no byte order mark, no UTF-16. */
final class Utf8 {
  private static final int CHUNK_CHARS = 8192;

  private Utf8() {}

  /** Offset of the first byte that is not part of UTF-8 text; empty when all are. */
  static OptionalInt firstFault(byte[] bytes) {
    if (startsWithByteOrderMark(bytes)) {
      return OptionalInt.of(0);
    }
    OptionalInt undecodable = firstUndecodable(bytes);
    return undecodable.isPresent() ? undecodable : zeroAmongFirstFour(bytes);
  }

  private static boolean startsWithByteOrderMark(byte[] bytes) {
    return bytes.length >= 3
        && bytes[0] == (byte) 0xEF
        && bytes[1] == (byte) 0xBB
        && bytes[2] == (byte) 0xBF;
  }

  /** JSON has no zero byte at all; among the first four the parser would take it for UTF-16. */
  private static OptionalInt zeroAmongFirstFour(byte[] bytes) {
    for (int i = 0; i < Math.min(4, bytes.length); i++) {
      if (bytes[i] == 0) {
        return OptionalInt.of(i);
      }
    }
    return OptionalInt.empty();
  }

  private static OptionalInt firstUndecodable(byte[] bytes) {
    CharsetDecoder decoder =
        StandardCharsets.UTF_8
            .newDecoder()
            .onMalformedInput(CodingErrorAction.REPORT)
            .onUnmappableCharacter(CodingErrorAction.REPORT);
    ByteBuffer in = ByteBuffer.wrap(bytes);
    CharBuffer out = CharBuffer.allocate(Math.min(bytes.length + 1, CHUNK_CHARS));
    CoderResult result;
    do {
      out.clear();
      result = decoder.decode(in, out, true);
    } while (result.isOverflow());
    return result.isError() ? OptionalInt.of(in.position()) : OptionalInt.empty();
  }
}
