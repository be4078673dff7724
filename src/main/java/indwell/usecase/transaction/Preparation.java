package indwell.usecase.transaction;

import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;
import indwell.fhir.map.FhirJson;
import indwell.fhir.map.ResourceId;
import indwell.port.ClinicalStore.Reading;
import indwell.port.ProfileValidator;
import indwell.usecase.transaction.Entry.Verb;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;

/**
 * What can be said of the entries before anything is locked: which resources they mean, which never
 * changes, and whether these meet their profiles.
 */
final class Preparation {
  private final ProfileValidator validator;
  private final String base;
  private final Problems problems = new Problems();

  Preparation(ProfileValidator validator, String base) {
    this.validator = validator;
    this.base = base;
  }

  /** Entries in the form in which they can be taken. */
  record Prepared(List<Taken> taken, List<Deletion> deletions) {}

  Prepared prepare(List<Entry> entries, Reading store) {
    EntryReader reader = new EntryReader(validator, base);
    List<Sent> sent = new ArrayList<>();
    problems.each(
        entries.stream().filter(entry -> entry.verb() != Verb.DELETE).toList(),
        entry -> sent.add(reader.read(entry)));
    problems.end();
    Identities identities = identified(sent, new Known(store));
    List<Taken> taken = new ArrayList<>();
    problems.each(sent, one -> taken.add(taken(one, identities)));
    List<Deletion> deletions = new ArrayList<>();
    problems.each(
        entries.stream().filter(entry -> entry.verb() == Verb.DELETE).toList(),
        entry -> deletions.add(Deletion.of(entry, base, identities.references())));
    problems.end();
    refuseTwice(taken, deletions);
    problems.each(taken, this::validate);
    problems.end();
    return new Prepared(taken, deletions);
  }

  private Identities identified(List<Sent> sent, Known known) {
    Identities identities = new Identities(known, sent, base);
    Map<Integer, List<Sent>> rounds = new TreeMap<>();
    sent.forEach(
        one ->
            rounds
                .computeIfAbsent(Identities.round(one.profile()), round -> new ArrayList<>())
                .add(one));
    for (List<Sent> round : rounds.values()) {
      problems.each(round, identities::identify);
      problems.end();
    }
    return identities;
  }

  private static Taken taken(Sent sent, Identities identities) {
    Identity identity = identities.of(sent);
    checkId(sent, identity.id());
    checkCondition(sent, identity.id(), identities.references());
    return OwnForm.of(sent, identity, identities.references());
  }

  private static void checkId(Sent sent, ResourceId own) {
    sent.target()
        .id()
        .filter(id -> !id.equals(own.id()))
        .ifPresent(
            id -> {
              throw sent.entry()
                  .refused(
                      422,
                      IssueCode.ID_IS_DERIVED,
                      "request.url",
                      "Id "
                          + Words.shown(id)
                          + " is not that of the resource with this identifier; expected "
                          + own.text()
                          + ".");
            });
  }

  /** A condition may only ask for the resource itself; that makes it safe from races. */
  private static void checkCondition(Sent sent, ResourceId own, References references) {
    Entry entry = sent.entry();
    String part = sent.target().condition().isPresent() ? "request.url" : "request.ifNoneExist";
    Optional<Token> condition =
        sent.target()
            .condition()
            .or(() -> entry.ifNoneExist().map(query -> ifNoneExist(entry, query)));
    if (condition.isEmpty()) {
      return;
    }
    if (!SentIdentifiers.of(sent.resource()).contains(condition.get())) {
      throw entry.refused(
          412,
          IssueCode.BAD_CONDITION,
          part,
          "Condition "
              + Words.shown(condition.get().text())
              + " is no identifier of the resource; expected one of those that it carries.");
    }
    Set<ResourceId> found = references.matching(own.type(), condition.get());
    if (found.stream().anyMatch(id -> !id.equals(own))) {
      throw entry.refused(
          412,
          IssueCode.NO_SINGLE_MATCH,
          part,
          "Condition "
              + Words.shown(condition.get().text())
              + " matches another resource than the one sent; expected that one or none.");
    }
    if (entry.verb() == Verb.PUT && found.contains(own)) {
      checkIdOfMatch(sent, own);
    }
  }

  /** Source: https://hl7.org/fhir/R4/http.html#cond-update. */
  private static void checkIdOfMatch(Sent sent, ResourceId own) {
    String id = sent.resource().getIdElement().getIdPart();
    if (id != null && !id.equals(own.id())) {
      throw EntryReader.otherId(sent.entry(), sent.resource(), own.id(), "of the match");
    }
  }

  private static Token ifNoneExist(Entry entry, String query) {
    if (entry.verb() != Verb.POST) {
      throw entry.refused(
          400,
          IssueCode.BAD_BUNDLE,
          "request.ifNoneExist",
          "ifNoneExist does not go with " + entry.verb() + "; expected it with POST.");
    }
    int mark = query.indexOf('?');
    return Target.condition(entry, "request.ifNoneExist", query.substring(mark + 1));
  }

  private void refuseTwice(List<Taken> taken, List<Deletion> deletions) {
    Map<ResourceId, Entry> seen = new HashMap<>();
    problems.each(taken, one -> once(seen, one.entry(), one.id()));
    problems.each(deletions, one -> one.id().ifPresent(id -> once(seen, one.entry(), id)));
    problems.end();
  }

  private static void once(Map<ResourceId, Entry> seen, Entry entry, ResourceId id) {
    Entry before = seen.putIfAbsent(id, entry);
    if (before != null) {
      throw entry.refused(
          400,
          IssueCode.RESOURCE_TWICE,
          "request",
          "Entry "
              + before.index()
              + " is about the same resource, "
              + id.text()
              + "; expected each once.");
    }
  }

  private void validate(Taken taken) {
    byte[] json = FhirJson.encode(taken.resource()).getBytes(StandardCharsets.UTF_8);
    List<Issue> found = EntryReader.findings(taken.entry(), validator.validate(json));
    if (!found.isEmpty()) {
      throw new Refused(422, found);
    }
  }
}
