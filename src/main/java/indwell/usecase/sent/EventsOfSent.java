package indwell.usecase.sent;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.EventKey;
import indwell.domain.event.EventVersion.Stated;
import indwell.domain.event.Ward;
import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;
import indwell.fhir.map.ResourceId;
import indwell.intake.EventReader;
import indwell.intake.EventTree;
import indwell.intake.Reading;
import indwell.usecase.SentEvents;
import indwell.usecase.sent.PatientReading.Told;
import indwell.usecase.transaction.Words;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.SortedMap;
import java.util.TreeMap;

/** Reads the events of all that was sent, patient by patient. */
final class EventsOfSent {
  private static final String PATIENT = "Patient/";

  private final SentResources sent;
  private final Doubts doubts;
  private final Instant now;
  private final Unread unread;
  private final SentWards wards = new SentWards();
  private final Map<String, String> names = new HashMap<>();
  private final Map<EventKey, BedsideEvent> known = new HashMap<>();
  private final Set<EventKey> contradicted = new HashSet<>();
  private final SortedMap<String, List<BedsideEvent>> events = new TreeMap<>();

  /**
   * @param now as for events: what lies ahead of it is refused
   */
  EventsOfSent(SentResources sent, Doubts doubts, Instant now) {
    this.sent = sent;
    this.doubts = doubts;
    this.now = now;
    this.unread = sent.unread();
  }

  /** What is to be counted. */
  SentEvents events() {
    return new SentEvents(events, wards.settings());
  }

  /** The Location of a ward as an answer shows it. */
  String location(Ward ward) {
    return wards.location(ward);
  }

  /** How resources were called where they were sent, by what they are called here. */
  Map<String, String> names() {
    return names;
  }

  /** The id that a patient has here, by the one that was sent. */
  String ownPatient(String id) {
    return names.entrySet().stream()
        .filter(name -> name.getValue().equals(PATIENT + id))
        .map(name -> name.getKey().substring(PATIENT.length()))
        .findFirst()
        .orElse(id);
  }

  /** Reads all of them. */
  void all() {
    SentIndex index = new SentIndex(sent.all());
    Map<String, List<SentResource>> patients = new LinkedHashMap<>();
    for (SentResource one : sent.all()) {
      judge(one);
      if (one.isNeeded() && one.type().equals("Location")) {
        wards.add(one, unread);
      } else if (one.isNeeded()) {
        patientOf(index, one)
            .ifPresent(
                patient ->
                    patients
                        .computeIfAbsent(identity(patient), none -> new ArrayList<>())
                        .add(one));
      }
    }
    patients.values().forEach(all -> readPatient(index, all));
    events.values().forEach(one -> one.removeIf(event -> contradicted.contains(event.key())));
  }

  private void judge(SentResource one) {
    if (one.verdict() instanceof Verdict.Unreadable why) {
      why.issues().forEach(issue -> unread.add(one.name(), PatientReading.placed(one, issue)));
    } else if (one.verdict() instanceof Verdict.SaysNothing why) {
      unread.saysNothing(one, why.why());
    } else if (one.verdict() instanceof Verdict.ReferredTo target) {
      target.why().ifPresent(why -> unread.saysNothing(one, why));
    }
  }

  private Optional<SentResource> patientOf(SentIndex index, SentResource one) {
    if (one.subject().isEmpty()) {
      return Optional.of(one);
    }
    Optional<SentResource> patient =
        index
            .lead(one, one.subject().get())
            .filter(led -> led.isNeeded() && led.type().equals("Patient"));
    if (patient.isEmpty()) {
      Issue issue = PatientReading.unresolved(one, one.subject().get().url());
      unread.add(one.name(), PatientReading.placed(one, issue));
    }
    return patient;
  }

  /** Two Patients with one identifier are one patient. */
  private String identity(SentResource patient) {
    return patient.identifiers().stream().findFirst().map(one -> one.token()).orElse(patient.key());
  }

  private void readPatient(SentIndex index, List<SentResource> all) {
    PatientReading reading = new PatientReading(index, unread, doubts, all);
    List<BedsideEvent> taken = new ArrayList<>();
    for (Told told : reading.events()) {
      take(told).ifPresent(taken::add);
    }
    for (SentResource one : all) {
      reading
          .own(one)
          .ifPresent(
              own -> {
                name(one, ResourceId.of(own));
                doubts.use(one, own, taken).ifPresent(unread::doubt);
              });
    }
    if (!taken.isEmpty()) {
      events.put(ResourceId.patient(taken.get(0).patient()).id(), taken);
    }
  }

  private void name(SentResource one, ResourceId own) {
    if (!one.reference().equals(own.text())) {
      names.put(own.text(), one.reference());
    }
  }

  /** Holds an event to the rules of every event; one that stands twice is taken once. */
  private Optional<BedsideEvent> take(Told told) {
    Reading read = EventReader.read(EventTree.of(told.event(), 1), List.of(), now);
    if (read instanceof Reading.Refused refused) {
      refused
          .issues()
          .forEach(
              issue ->
                  unread.add(
                      told.sent().name(),
                      Issue.error(issue.code(), told.sent().place().at(""), issue.diagnostics())));
      return Optional.empty();
    }
    BedsideEvent event = ((Stated) ((Reading.Accepted) read).version()).event();
    BedsideEvent before = known.putIfAbsent(event.key(), event);
    if (before == null) {
      return Optional.of(event);
    }
    if (!before.equals(event)) {
      contradicted.add(event.key());
      unread.add(told.sent().name(), contradiction(told.sent(), event.key()));
    }
    return Optional.empty();
  }

  private Issue contradiction(SentResource one, EventKey key) {
    return Issue.error(
        IssueCode.RESOURCE_TWICE,
        one.place().at(""),
        "Another resource tells event "
            + Words.shown(key.token())
            + " with other content; expected each event once.");
  }
}
