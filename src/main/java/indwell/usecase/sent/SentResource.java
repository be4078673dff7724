package indwell.usecase.sent;

import indwell.domain.event.BusinessId;
import indwell.fhir.bundle.TakenProfile;
import java.util.List;
import java.util.Optional;
import java.util.OptionalLong;
import org.hl7.fhir.r4.model.IdType;
import org.hl7.fhir.r4.model.Resource;

/**
 * A resource that was sent, with what has to be known of it before all are there. What it says in
 * full is read again from its text when its patient's turn has come.
 *
 * @param number its own among all
 * @param key the address that others refer to it by: its fullUrl, else {@code Type/id}, else its
 *     number
 * @param id its logical id
 * @param subject the patient that it names; empty for a patient and for a ward
 * @param identifiers with both system and value, in their order
 * @param version {@code meta.versionId} if it is a number
 * @param written {@code meta.lastUpdated} in milliseconds
 * @param json as it was sent; nothing where the verdict makes it needless
 */
// The bytes are compared with care, and never printed.
@SuppressWarnings("ArrayRecordComponent")
record SentResource(
    int number,
    Place place,
    String type,
    String key,
    Optional<String> id,
    Optional<Link> subject,
    List<BusinessId> identifiers,
    Optional<TakenProfile> profile,
    OptionalLong version,
    OptionalLong written,
    Verdict verdict,
    byte[] json) {

  /** Bytes that one takes beside its text. */
  private static final long OVERHEAD = 512;

  /**
   * What a Reference says.
   *
   * @param url its literal reference, or nothing
   * @param identifier its logical one
   */
  record Link(String url, Optional<BusinessId> identifier) {}

  /** What it costs to remember it. */
  long cost() {
    return OVERHEAD + json.length;
  }

  /** How a sentence names it. */
  String name() {
    return id.map(one -> type + "/" + one).orElse(type) + " (" + place.words() + ")";
  }

  /** What an answer refers to it by. */
  String reference() {
    return id.map(one -> type + "/" + one).orElse(key);
  }

  boolean isNeeded() {
    return verdict instanceof Verdict.Needed || verdict instanceof Verdict.ReferredTo;
  }

  /**
   * Whether this is a later version than the other, of which it is one; empty when nobody knows.
   */
  Optional<Boolean> isLaterThan(SentResource other) {
    if (version.isPresent() && other.version.isPresent()) {
      return version.getAsLong() == other.version.getAsLong()
          ? Optional.empty()
          : Optional.of(version.getAsLong() > other.version.getAsLong());
    }
    if (written.isPresent() && other.written.isPresent()) {
      return written.getAsLong() == other.written.getAsLong()
          ? Optional.empty()
          : Optional.of(written.getAsLong() > other.written.getAsLong());
    }
    return Optional.empty();
  }

  /** The same with another verdict and without its text. */
  SentResource judged(Verdict other) {
    return new SentResource(
        number,
        place,
        type,
        key,
        id,
        subject,
        identifiers,
        profile,
        version,
        written,
        other,
        new byte[0]);
  }

  static Optional<String> idOf(Resource resource) {
    return Optional.of(resource.getIdElement()).map(IdType::getIdPart).filter(id -> !id.isEmpty());
  }
}
