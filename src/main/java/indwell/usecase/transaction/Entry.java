package indwell.usecase.transaction;

import indwell.domain.refusal.IssueCode;
import java.util.Optional;

/**
 * One entry of a Bundle that asks for a change.
 *
 * @param index its place in the Bundle, from 0
 * @param url as in {@code request.url}
 * @param ifNoneExist as in {@code request.ifNoneExist}
 * @param ifMatch as in {@code request.ifMatch}
 * @param json its resource as it was sent
 */
// The bytes are never compared or printed.
@SuppressWarnings("ArrayRecordComponent")
public record Entry(
    int index,
    Verb verb,
    String url,
    Optional<String> fullUrl,
    Optional<String> ifNoneExist,
    Optional<String> ifMatch,
    Optional<byte[]> json) {

  /** What is to be done, in the order in which it is done. */
  public enum Verb {
    DELETE,
    POST,
    PUT
  }

  /** Where it stands, for the expression of an issue. */
  String at(String part) {
    return "Bundle.entry[" + index + "]." + part;
  }

  /** Where an element of its resource stands; an empty element is the resource itself. */
  String inResource(String element) {
    return at("resource") + (element.isEmpty() ? "" : "." + element);
  }

  Refused refused(int status, IssueCode code, String part, String sentence) {
    return Refused.of(status, code, at(part), sentence);
  }
}
