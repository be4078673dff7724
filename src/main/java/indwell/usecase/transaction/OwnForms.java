package indwell.usecase.transaction;

import indwell.domain.refusal.Issue;
import indwell.fhir.bundle.TakenProfile;
import indwell.usecase.transaction.Entry.Verb;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.function.Consumer;
import org.hl7.fhir.r4.model.Resource;

/**
 * Brings resources into the form in which a transaction would store them, by themselves: nothing is
 * looked up in the store, nothing is validated, nothing is written.
 */
public final class OwnForms {
  private static final String NOWHERE = "urn:nowhere";

  private final Map<Integer, Resource> own = new HashMap<>();
  private final Map<Integer, List<Issue>> refused = new HashMap<>();

  private OwnForms() {}

  /**
   * One resource.
   *
   * @param number its own among all
   * @param url what the others refer to it by
   */
  public record Given(int number, String url, Resource resource, TakenProfile profile) {}

  /** Brings them into it, all that can be. */
  public static OwnForms of(List<Given> given) {
    List<Sent> sent = given.stream().map(OwnForms::sent).toList();
    OwnForms forms = new OwnForms();
    forms.form(sent, new Identities(Known.nothing(), sent, NOWHERE));
    return forms;
  }

  private static Sent sent(Given one) {
    Entry entry =
        new Entry(
            one.number(),
            Verb.POST,
            one.resource().fhirType(),
            Optional.of(one.url()),
            Optional.empty(),
            Optional.empty(),
            Optional.empty());
    Target target = new Target(one.resource().fhirType(), Optional.empty(), Optional.empty());
    return new Sent(entry, target, one.resource(), one.profile());
  }

  private void form(List<Sent> all, Identities identities) {
    Map<Integer, List<Sent>> rounds = new TreeMap<>();
    for (Sent one : all) {
      rounds.computeIfAbsent(Identities.round(one.profile()), round -> new ArrayList<>()).add(one);
    }
    rounds.values().forEach(round -> each(round, identities::identify));
    each(
        all,
        one -> {
          Taken taken = OwnForm.of(one, identities.of(one), identities.references());
          own.put(one.entry().index(), taken.resource());
        });
  }

  private void each(List<Sent> sent, Consumer<Sent> work) {
    for (Sent one : sent) {
      int number = one.entry().index();
      if (!refused.containsKey(number)) {
        try {
          work.accept(one);
        } catch (Refused why) {
          refused.put(number, why.issues().stream().map(issue -> within(one, issue)).toList());
        }
      }
    }
  }

  /** An issue whose expression begins with the type of the resource. */
  private static Issue within(Sent sent, Issue issue) {
    String type = sent.resource().fhirType();
    String expression = issue.expression().replace(sent.entry().at("resource"), type);
    return new Issue(issue.severity(), issue.code(), issue.diagnostics(), expression);
  }

  /** The form of the resource with that number; empty where it was refused. */
  public Optional<Resource> of(int number) {
    return Optional.ofNullable(own.get(number));
  }

  /** Why the resource with that number has no form; none where it has one. */
  public List<Issue> refused(int number) {
    return refused.getOrDefault(number, List.of());
  }
}
