package indwell.usecase.transaction;

import ca.uhn.fhir.parser.DataFormatException;
import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;
import indwell.fhir.bundle.TakenProfile;
import indwell.fhir.map.EnteredInError;
import indwell.fhir.map.FhirJson;
import indwell.port.ProfileValidator;
import indwell.port.ProfileValidator.Finding;
import indwell.usecase.transaction.Entry.Verb;
import java.nio.charset.StandardCharsets;
import java.util.List;
import org.hl7.fhir.r4.model.Resource;

/** Reads the resource of an entry and finds out which of our profiles it is to meet. */
final class EntryReader {
  private final ProfileValidator validator;
  private final String base;

  EntryReader(ProfileValidator validator, String base) {
    this.validator = validator;
    this.base = base;
  }

  Sent read(Entry entry) {
    Target target = Target.of(entry, base);
    boolean isNamed = target.id().isPresent() || target.condition().isPresent();
    if (isNamed != (entry.verb() == Verb.PUT)) {
      throw entry.refused(
          400,
          IssueCode.BAD_BUNDLE,
          "request.url",
          "URL "
              + Words.shown(entry.url())
              + " does not go with "
              + entry.verb()
              + "; expected a type alone with POST, and an id or an identifier with PUT.");
    }
    requireTaken(entry, target);
    byte[] json =
        entry
            .json()
            .orElseThrow(
                () ->
                    entry.refused(
                        400,
                        IssueCode.BAD_BUNDLE,
                        "resource",
                        "The entry has no resource; expected one with " + entry.verb() + "."));
    return sent(entry, target, parsed(entry, json));
  }

  /** Refuses a target of a type that is never taken. */
  static void requireTaken(Entry entry, Target target) {
    if (TakenProfile.ofType(target.type()).isEmpty()) {
      throw entry.refused(
          422,
          IssueCode.RESOURCE_NOT_TAKEN,
          "request.url",
          "Type " + target.type() + " is not taken; expected one of " + Words.types() + ".");
    }
  }

  private static Sent sent(Entry entry, Target target, Resource resource) {
    if (!resource.fhirType().equals(target.type())) {
      throw entry.refused(
          400,
          IssueCode.BAD_BUNDLE,
          "resource",
          "The resource is of type "
              + resource.fhirType()
              + "; expected "
              + target.type()
              + " as in the URL.");
    }
    target.id().ifPresent(id -> requireId(entry, resource, id));
    if (FhirJson.isPart(resource)) {
      throw entry.refused(
          422,
          IssueCode.RESOURCE_NOT_TAKEN,
          "resource.meta.tag",
          "The resource is tagged SUBSETTED and so only a part of one; expected the whole.");
    }
    TakenProfile profile =
        TakenProfile.of(resource)
            .orElseThrow(
                () ->
                    entry.refused(
                        422,
                        IssueCode.RESOURCE_NOT_TAKEN,
                        "resource.code",
                        "This "
                            + target.type()
                            + " is none that is taken; expected a code or meta.profile of one of "
                            + Words.profiles(target.type())
                            + "."));
    if (entry.verb() == Verb.POST && EnteredInError.isMarked(resource)) {
      throw entry.refused(
          422,
          IssueCode.RESOURCE_NOT_TAKEN,
          "resource.status",
          "Status \"entered-in-error\" is not taken with POST; expected it with PUT, or DELETE.");
    }
    Sent sent = new Sent(entry, target, resource, profile);
    Understood.require(sent);
    return sent;
  }

  /** Source: https://hl7.org/fhir/R4/http.html#update. */
  private static void requireId(Entry entry, Resource resource, String id) {
    if (!id.equals(resource.getIdElement().getIdPart())) {
      throw otherId(entry, resource, id, "in the URL");
    }
  }

  /** Refuses the id of a body. */
  static Refused otherId(Entry entry, Resource resource, String expected, String where) {
    String found = resource.getIdElement().getIdPart();
    return entry.refused(
        400,
        IssueCode.ID_NOT_OF_URL,
        "resource.id",
        (found == null ? "The resource has no id" : "The id is " + Words.shown(found))
            + "; expected "
            + Words.shown(expected)
            + " as "
            + where
            + ".");
  }

  private Resource parsed(Entry entry, byte[] json) {
    try {
      return FhirJson.parse(new String(json, StandardCharsets.UTF_8));
    } catch (DataFormatException unreadable) {
      List<Issue> found = findings(entry, validator.validate(json));
      throw new Refused(
          422,
          found.isEmpty()
              ? List.of(
                  Issue.error(
                      IssueCode.RESOURCE_INVALID,
                      entry.inResource(""),
                      "The resource cannot be read; expected a resource of FHIR R4."))
              : found);
    }
  }

  /** The errors among the findings, as issues of the entry. */
  static List<Issue> findings(Entry entry, List<Finding> findings) {
    return findings.stream()
        .filter(Finding::isError)
        .map(
            finding ->
                Issue.error(
                    IssueCode.RESOURCE_INVALID,
                    entry.inResource(element(finding.expression())),
                    finding.diagnostics()))
        .toList();
  }

  private static String element(String expression) {
    int dot = expression.indexOf('.');
    return dot < 0 ? "" : expression.substring(dot + 1);
  }
}
