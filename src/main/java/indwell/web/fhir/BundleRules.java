package indwell.web.fhir;

import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;
import indwell.web.fhir.BundleReader.Sent;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;

/**
 * The rules of a Bundle that asks for something.
 *
 * <p>Source: https://hl7.org/fhir/R4/bundle.html#invs, bdl-3 and bdl-7.
 */
final class BundleRules {
  static final int MOST_ENTRIES = 1_000;

  private static final Set<String> METHODS = Set.of("GET", "POST", "PUT", "DELETE");

  private BundleRules() {}

  /**
   * Refuses a Bundle that breaks one. Of a batch, an entry that asks for what is not done does not
   * refuse the others.
   *
   * @throws FhirRefusal 400, or 413 for too many entries
   */
  static void require(Sent bundle) {
    if (!bundle.type().equals("transaction") && !bundle.type().equals("batch")) {
      throw FhirRefusal.of(
          400,
          IssueCode.BAD_BUNDLE,
          "Bundle.type",
          "Bundle type "
              + Shown.text(bundle.type())
              + " is not taken; expected transaction or batch.");
    }
    if (bundle.entries().size() > MOST_ENTRIES) {
      throw FhirRefusal.of(
          413,
          IssueCode.TOO_MANY_ENTRIES,
          "Bundle.entry",
          "The Bundle has "
              + bundle.entries().size()
              + " entries; expected at most "
              + MOST_ENTRIES
              + ".");
    }
    List<Issue> broken = new ArrayList<>();
    Set<String> fullUrls = new HashSet<>();
    for (BundleEntry entry : bundle.entries()) {
      checkForm(entry, fullUrls, broken);
      if (bundle.type().equals("transaction")) {
        broken.addAll(faults(entry));
      }
    }
    if (!broken.isEmpty()) {
      throw new FhirRefusal(400, broken);
    }
  }

  /** What makes the whole no Bundle of requests, whatever type it has. */
  private static void checkForm(BundleEntry entry, Set<String> fullUrls, List<Issue> broken) {
    if (entry.request().isEmpty()) {
      broken.add(
          fault(
              entry,
              "request",
              "The entry has no request; expected one with method and url in every entry."));
    }
    if (entry.fullUrl().filter(url -> !fullUrls.add(url)).isPresent()) {
      broken.add(
          fault(
              entry,
              "fullUrl",
              "The fullUrl "
                  + Shown.text(entry.fullUrl().get())
                  + " stands twice; expected each once."));
    }
  }

  /** What is wrong with a request by itself; in a batch the others are done all the same. */
  static List<Issue> faults(BundleEntry entry) {
    List<Issue> broken = new ArrayList<>();
    if (entry.request().isEmpty()) {
      return broken;
    }
    if (!METHODS.contains(entry.method())) {
      broken.add(
          fault(
              entry,
              "request.method",
              "Method "
                  + Shown.text(entry.method())
                  + " is not taken; expected GET, POST, PUT or DELETE."));
    }
    if (entry.url().isEmpty()) {
      broken.add(
          fault(
              entry, "request.url", "The entry has no URL; expected request with method and url."));
    }
    if (!entry.reads() && entry.header("ifNoneMatch").isPresent()) {
      broken.add(
          fault(
              entry,
              "request.ifNoneMatch",
              "ifNoneMatch is looked at with GET alone; expected ifNoneExist or ifMatch."));
    }
    return broken;
  }

  private static Issue fault(BundleEntry entry, String part, String sentence) {
    return Issue.error(IssueCode.BAD_BUNDLE, entry.at(part), sentence);
  }
}
