package indwell.usecase.transaction;

import indwell.domain.event.BedsideEvent;
import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;
import indwell.domain.timeline.Timeline;
import indwell.fhir.bundle.Agreement;
import indwell.fhir.bundle.Agreement.Difference;
import indwell.fhir.map.Draft;
import indwell.fhir.map.MappingContext;
import indwell.fhir.map.ResourceId;
import indwell.fhir.map.ResourcePlan;
import indwell.usecase.PatientState;
import indwell.usecase.transaction.Statements.Statement;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.hl7.fhir.r4.model.Resource;

/**
 * Holds what was sent against what is made of it. It may agree with what all events make, or with
 * what the caller's own make by themselves: a sender need not know what else has happened.
 */
final class Agreements {
  /** Types that stay when no event makes them any more. */
  private static final Set<String> LASTING = Set.of("Patient", "Location");

  private final Scene scene;
  private final List<Taken> taken;
  private final List<ResourcePlan> plans = new ArrayList<>();
  private final List<ResourcePlan> own = new ArrayList<>();
  private final Map<Integer, List<Issue>> remarks = new HashMap<>();

  Agreements(
      Scene scene,
      Statements statements,
      List<Taken> taken,
      MappingContext context,
      Collection<PatientState> after) {
    this.scene = scene;
    this.taken = taken;
    after.forEach(state -> plans.add(state.plan()));
    statements.all().stream()
        .map(Statement::event)
        .flatMap(event -> event.stream())
        .collect(Collectors.groupingBy(BedsideEvent::patient))
        .values()
        .forEach(events -> own.add(ResourcePlan.of(Timeline.of(events), context)));
  }

  /** Refuses the transaction when something in it contradicts what is made. */
  void check() {
    Problems problems = new Problems();
    problems.each(
        taken.stream().filter(scene::counts).filter(one -> !one.sent().takenBack()).toList(),
        this::check);
    problems.end();
  }

  /** What was kept otherwise, or not at all. */
  List<Issue> remarks(Taken one) {
    return remarks.getOrDefault(one.entry().index(), List.of());
  }

  private void check(Taken one) {
    List<Resource> made =
        Stream.of(plans, own)
            .flatMap(List::stream)
            .flatMap(plan -> plan.draft(one.id()).stream())
            .map(Draft::build)
            .toList();
    boolean isMade = plans.stream().anyMatch(plan -> plan.draft(one.id()).isPresent());
    if (!isMade && !(LASTING.contains(one.id().type()) && scene.isLive(one.id()))) {
      throw madeByNoEvent(one);
    }
    List<Issue> contradictions = new ArrayList<>();
    List<Issue> told = new ArrayList<>();
    one.left().forEach(element -> told.add(notKept(one.entry(), element)));
    if (!made.isEmpty()) {
      for (Difference difference : Agreement.between(one.resource(), made)) {
        switch (difference.kind()) {
          case CONTRADICTION -> contradictions.add(contradiction(one, difference.element()));
          case WORKED_OUT -> told.add(workedOut(one.entry(), difference.element()));
          case NOT_KEPT -> told.add(notKept(one.entry(), difference.element()));
        }
      }
    }
    if (!contradictions.isEmpty()) {
      throw new Refused(422, contradictions);
    }
    remarks.put(one.entry().index(), told);
  }

  private static Refused madeByNoEvent(Taken one) {
    ResourceId id = one.id();
    return one.entry()
        .refused(
            422,
            IssueCode.MADE_BY_NO_EVENT,
            "resource",
            "Resource "
                + id.text()
                + " is made by no event; expected a resource that makes one, such as a Procedure,"
                + " in the same transaction.");
  }

  private static Issue contradiction(Taken one, String element) {
    return Issue.error(
        IssueCode.CONTRADICTS_EVENTS,
        one.entry().inResource(element),
        "Element "
            + element
            + " of "
            + one.id().text()
            + " says other than the events make of it; expected it to agree with them.");
  }

  private static Issue workedOut(Entry entry, String element) {
    return Issue.warning(
        IssueCode.WORKED_OUT_OTHERWISE,
        entry.inResource(element),
        "Element " + element + " is worked out from the events, and comes out otherwise.");
  }

  private static Issue notKept(Entry entry, String element) {
    return Issue.warning(
        IssueCode.NOT_KEPT,
        entry.inResource(element),
        "Element " + element + " is not kept: no event carries it.");
  }
}
