package indwell.usecase.transaction;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.CatheterEvent.SpecimenCollection;
import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;
import indwell.fhir.map.ResourceId;
import indwell.intake.EventReader;
import indwell.intake.EventTree;
import indwell.intake.Reading;
import indwell.port.StoredEvent;
import indwell.usecase.Replacement.Change;
import indwell.usecase.transaction.Statements.Statement;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * Makes versions of events of what is said of them: none where nothing changes, else the one after
 * the highest. Each is held to the rules of every event.
 */
final class Versions {
  private final Scene scene;
  private final Statements statements;
  private final Instant now;

  Versions(Scene scene, Statements statements, Instant now) {
    this.scene = scene;
    this.statements = statements;
    this.now = now;
  }

  List<Change> changes() {
    List<Change> changes = new ArrayList<>();
    Problems problems = new Problems();
    problems.each(statements.all(), one -> change(one).ifPresent(changes::add));
    problems.end();
    return changes;
  }

  private Optional<Change> change(Statement statement) {
    Optional<BedsideEvent> current = scene.current(statement.key());
    Optional<BedsideEvent> event = statement.event().map(one -> withStay(one, current));
    if (event.equals(current)) {
      return Optional.empty();
    }
    current.ifPresent(known -> requireChangeable(statement, known));
    Optional<StoredEvent> highest = scene.highest(statement.key());
    int version = highest.map(StoredEvent::version).orElse(0) + 1;
    Map<String, Object> tree =
        event.isPresent()
            ? EventTree.of(event.get(), version)
            : current
                .map(one -> EventTree.withdrawal(one.key(), version, one.type(), one.patient()))
                .orElseThrow();
    Reading reading = EventReader.read(tree, List.of(), now);
    if (reading instanceof Reading.Refused refused) {
      throw new Refused(422, issues(statement.entry(), refused.issues()));
    }
    Reading.Accepted accepted = (Reading.Accepted) reading;
    return Optional.of(new Change(accepted.version(), accepted.canonical(), highest));
  }

  /** A Specimen of R4 cannot name the stay, so that the event keeps the one that it has. */
  private static BedsideEvent withStay(BedsideEvent event, Optional<BedsideEvent> current) {
    if (event instanceof SpecimenCollection specimen
        && current.isPresent()
        && current.get() instanceof SpecimenCollection known
        && specimen.encounterNamed().isEmpty()) {
      return new SpecimenCollection(
          specimen.envelope(), known.encounterNamed(), specimen.catheter(), specimen.purpose());
    }
    return event;
  }

  private static void requireChangeable(Statement statement, BedsideEvent known) {
    boolean isOtherResource =
        statement
            .event()
            .filter(
                event -> !ResourceId.mainOf(event).type().equals(ResourceId.mainOf(known).type()))
            .isPresent();
    if (statement.create() || isOtherResource) {
      throw statement
          .entry()
          .refused(
              409,
              IssueCode.KNOWN_WITH_OTHER_CONTENT,
              "resource",
              "Event "
                  + Words.shown(statement.key().token())
                  + " is on record with other content, as "
                  + ResourceId.mainOf(known).text()
                  + "; expected the same content, or PUT of that resource.");
    }
  }

  private static List<Issue> issues(Entry entry, List<Issue> issues) {
    return issues.stream()
        .map(
            issue ->
                new Issue(
                    issue.severity(), issue.code(), issue.diagnostics(), entry.inResource("")))
        .toList();
  }
}
