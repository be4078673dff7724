package indwell.adapter.validation;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonToken;
import com.fasterxml.jackson.core.StreamReadFeature;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.Optional;
import java.util.Set;

/**
 * All of a resource that its verdict can depend on, as a digest: two resources of one shape meet
 * the same profiles.
 *
 * <p>Everything counts as it stands, but for these leaves, of which only so much counts as an
 * element definition, a binding or an invariant can look at (see {@link Leaf}):
 *
 * <ul>
 *   <li>ids, version ids, the ids within references, and values of identifiers: that they are well
 *       formed, and which of them are equal;
 *   <li>times to the second or finer with their offset: that they are, and how they are ordered;
 *   <li>numbers of quantities: whether they are zero, and their decimals.
 * </ul>
 *
 * <p>Whatever is not plainly one of these is no leaf and counts letter by letter. So a shape is
 * never wider than its leaves; that none of them can change a verdict is what {@code
 * VouchedShapesTest} and the list of reviewed invariants hold.
 *
 * @param first to fourth SHA-256 of the shape
 */
record Shape(long first, long second, long third, long fourth) {
  /**
   * What the mapper writes. Of no other type have the invariants been read for what they look at;
   * one of MeasureReport looks at the month of a time.
   */
  private static final Set<String> TYPES =
      Set.of(
          "Device",
          "DeviceUseStatement",
          "Encounter",
          "Location",
          "Observation",
          "Patient",
          "Procedure",
          "Provenance",
          "Specimen");

  private static final JsonFactory JSON =
      JsonFactory.builder().enable(StreamReadFeature.STRICT_DUPLICATE_DETECTION).build();

  /** The shape of a resource; empty when it is no well-formed JSON object of one of our types. */
  static Optional<Shape> of(byte[] json) {
    try (JsonParser parser = JSON.createParser(json)) {
      if (parser.nextToken() != JsonToken.START_OBJECT) {
        return Optional.empty();
      }
      ShapeText text = new ShapeText();
      for (JsonToken token = parser.currentToken(); token != null; token = parser.nextToken()) {
        text.add(token, parser);
      }
      return TYPES.contains(text.resourceType())
          ? Optional.of(digest(text.finished()))
          : Optional.empty();
    } catch (IOException broken) {
      return Optional.empty();
    }
  }

  private static Shape digest(String text) {
    try {
      byte[] hash =
          MessageDigest.getInstance("SHA-256").digest(text.getBytes(StandardCharsets.UTF_8));
      ByteBuffer four = ByteBuffer.wrap(hash);
      return new Shape(four.getLong(), four.getLong(), four.getLong(), four.getLong());
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException("Every Java platform has SHA-256", e);
    }
  }
}
