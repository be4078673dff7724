package indwell.web.fhir;

import indwell.domain.refusal.IssueCode;
import indwell.usecase.transaction.Entry;
import indwell.usecase.transaction.Entry.Verb;
import java.util.Map;
import java.util.Optional;

/**
 * One entry of a batch or transaction, as it was sent.
 *
 * @param index its place, from 0
 * @param request the parts of {@code request} by name
 */
// The bytes are never compared or printed.
@SuppressWarnings("ArrayRecordComponent")
record BundleEntry(
    int index, Optional<String> fullUrl, Map<String, String> request, Optional<byte[]> resource) {
  BundleEntry {
    request = Map.copyOf(request);
  }

  String method() {
    return request.getOrDefault("method", "");
  }

  String url() {
    return request.getOrDefault("url", "");
  }

  Optional<String> header(String name) {
    return Optional.ofNullable(request.get(name));
  }

  boolean reads() {
    return method().equals("GET");
  }

  /** The change that it asks for. */
  Entry change() {
    return new Entry(
        index,
        Verb.valueOf(method()),
        url(),
        fullUrl,
        header("ifNoneExist"),
        header("ifMatch"),
        resource);
  }

  String at(String part) {
    return "Bundle.entry[" + index + "]" + (part.isEmpty() ? "" : "." + part);
  }

  FhirRefusal refused(String part, String sentence) {
    return FhirRefusal.of(400, IssueCode.BAD_BUNDLE, at(part), sentence);
  }
}
