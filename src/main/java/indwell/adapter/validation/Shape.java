package indwell.adapter.validation;

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

  /** How every resource begins that we write. */
  private static final String BEGIN = "{\"resourceType\":\"";

  /** The shape of a resource; empty when it is none of our types, written as we write it. */
  static Optional<Shape> of(String json) {
    return isOfOurType(json) ? ShapeScanner.shapeText(json).map(Shape::digest) : Optional.empty();
  }

  private static boolean isOfOurType(String json) {
    int end = json.indexOf('"', BEGIN.length());
    return json.startsWith(BEGIN)
        && end >= 0
        && TYPES.contains(json.substring(BEGIN.length(), end));
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
