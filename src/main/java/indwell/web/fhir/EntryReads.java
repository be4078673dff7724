package indwell.web.fhir;

import indwell.domain.refusal.Issue;
import indwell.web.HttpAnswer;
import indwell.web.fhir.Dispatcher.Found;
import indwell.web.fhir.Dispatcher.Missed;
import indwell.web.fhir.FhirRequest.Headers;
import indwell.web.fhir.QueryText.Parameter;
import io.vertx.core.buffer.Buffer;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** Answers entries that read, as if they had come by themselves. */
final class EntryReads {
  private final Dispatcher dispatcher;
  private final FhirRequest outer;

  EntryReads(List<Interaction> interactions, FhirRequest outer) {
    this.dispatcher = new Dispatcher(interactions);
    this.outer = outer;
  }

  /** The answer, an error included. */
  HttpAnswer answer(BundleEntry entry) {
    try {
      FhirRequest request = request(entry);
      HttpAnswer answer = find(request);
      request.visit().end(answer.status(), outer.now());
      if (answer.file().isPresent()) {
        throw entry.refused("request.url", "A file is no resource; expected it asked for alone.");
      }
      return answer;
    } catch (FhirRefusal refusal) {
      return refusal.answer();
    }
  }

  /**
   * The answer, if it is none that fails.
   *
   * @throws FhirRefusal with the entry's place otherwise
   */
  HttpAnswer require(BundleEntry entry) {
    try {
      FhirRequest request = request(entry);
      if (dispatcher.find("GET", request.path()) instanceof Found found) {
        FhirAccess.require(request.caller(), found.interaction().needs(request));
        return found.interaction().answer(request);
      }
      throw FhirRefusal.notFound(
          "URL "
              + Shown.text(entry.url())
              + " is not read within a transaction; expected a resource, its history or a search.");
    } catch (FhirRefusal refusal) {
      refusal.reason().ifPresent(outer.visit()::refused);
      throw new FhirRefusal(
          refusal.status(),
          refusal.issues().stream()
              .map(
                  issue ->
                      new Issue(
                          issue.severity(),
                          issue.code(),
                          issue.diagnostics(),
                          entry.at("request.url")))
              .toList());
    }
  }

  /** Tells the audit trail of an entry that was read within a transaction, once that has ended. */
  void tell(BundleEntry entry, int status) {
    request(entry).visit().end(status, outer.now());
  }

  private HttpAnswer find(FhirRequest request) {
    Dispatcher.Target target = dispatcher.find("GET", request.path());
    return target instanceof Missed missed
        ? missed.answer()
        : Dispatcher.run(((Found) target).interaction(), request);
  }

  private FhirRequest request(BundleEntry entry) {
    String url = entry.url();
    String below = url.startsWith(outer.base()) ? url.substring(outer.base().length()) : url;
    int mark = below.indexOf('?');
    String query = mark < 0 ? "" : below.substring(mark + 1);
    List<Parameter> parameters = QueryText.parameters(query).orElseThrow(() -> undecodable(entry));
    List<String> segments = path(entry, mark < 0 ? below : below.substring(0, mark));
    return new FhirRequest(
        "GET",
        outer.base(),
        segments,
        parameters,
        new Headers(
            outer.headers().prefer(),
            entry.header("ifNoneMatch"),
            entry.header("ifModifiedSince"),
            Optional.empty(),
            Optional.empty()),
        Buffer.buffer(),
        Negotiation.FHIR_JSON,
        outer.now(),
        outer
            .visit()
            .part("GET", "/fhir/" + String.join("/", segments), QueryText.entries(parameters)));
  }

  private static List<String> path(BundleEntry entry, String path) {
    List<String> segments = new ArrayList<>();
    for (String segment : path.split("/", -1)) {
      if (!segment.isEmpty()) {
        Optional<String> decoded = QueryText.decode(segment, false);
        segments.add(decoded.orElseThrow(() -> undecodable(entry)));
      }
    }
    return segments;
  }

  private static FhirRefusal undecodable(BundleEntry entry) {
    return entry.refused(
        "request.url",
        "URL " + Shown.text(entry.url()) + " cannot be decoded; expected percent-encoded UTF-8.");
  }
}
