package indwell.usecase.sent;

import ca.uhn.fhir.util.FhirTerser;
import indwell.domain.event.BedsideEvent;
import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;
import indwell.fhir.map.FhirJson;
import indwell.fhir.map.PatientResources;
import indwell.fhir.map.ResourceId;
import indwell.fhir.map.WardEntries;
import indwell.fhir.term.Extensions;
import indwell.fhir.timeline.TimelineFromFhir;
import indwell.usecase.sent.SentResource.Link;
import indwell.usecase.transaction.OwnForms;
import indwell.usecase.transaction.OwnForms.Given;
import indwell.usecase.transaction.Words;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeSet;
import org.hl7.fhir.r4.model.Encounter;
import org.hl7.fhir.r4.model.Reference;
import org.hl7.fhir.r4.model.Resource;

/** Reads the events of one patient from all that was sent of that patient. */
final class PatientReading {
  private static final FhirTerser TERSER = FhirJson.context().newTerser();
  private static final String URL = "urn:sent:";

  private final SentIndex index;
  private final Unread unread;
  private final Doubts doubts;
  private final List<SentResource> all;
  private final Map<Integer, Resource> parsed = new HashMap<>();
  private final Map<Integer, TreeSet<String>> leadNowhere = new HashMap<>();
  private final OwnForms forms;
  private final PatientResources resources;

  /**
   * @param all of one patient
   */
  PatientReading(SentIndex index, Unread unread, Doubts doubts, List<SentResource> all) {
    this.index = index;
    this.unread = unread;
    this.doubts = doubts;
    this.all = all;
    List<Given> given = new ArrayList<>();
    for (SentResource sent : all) {
      Resource resource = FhirJson.parse(SentReader.text(sent.json()));
      parsed.put(sent.number(), resource);
      pointAtWhatWasSent(sent, resource);
      given.add(
          new Given(sent.number(), URL + sent.number(), resource, sent.profile().orElseThrow()));
    }
    forms = OwnForms.of(given);
    resources =
        new PatientResources(
            all.stream().flatMap(sent -> forms.of(sent.number()).stream()).toList());
  }

  private void pointAtWhatWasSent(SentResource sent, Resource resource) {
    for (Reference reference :
        TERSER.getAllPopulatedChildElementsOfType(resource, Reference.class)) {
      Link link = SentReader.link(reference);
      Optional<SentResource> led = index.lead(sent, link);
      if (led.isPresent()) {
        reference.setReference(
            led.get().type().equals("Location")
                ? ResourceId.ward(SentWards.of(led.get())).text()
                : URL + led.get().number());
      } else if (!link.url().isEmpty() && !link.url().startsWith("#")) {
        leadNowhere.computeIfAbsent(sent.number(), none -> new TreeSet<>()).add(link.url());
      }
    }
  }

  /**
   * An event and what told it.
   *
   * @param event bare
   */
  record Told(SentResource sent, BedsideEvent event) {}

  /** The events, in no particular order; what cannot be read is told to {@link Unread}. */
  List<Told> events() {
    List<Told> told = new ArrayList<>();
    for (SentResource sent : all) {
      List<Issue> refused = forms.refused(sent.number());
      if (!refused.isEmpty()) {
        refused.forEach(issue -> unread.add(sent.name(), placed(sent, issue)));
      } else if (sent.verdict() instanceof Verdict.Needed
          && SentResources.tellsEvents(sent.profile().orElseThrow())) {
        read(sent).forEach(event -> told.add(new Told(sent, event)));
      }
    }
    return told;
  }

  /** The form of our own of a resource; empty where it has none. */
  Optional<Resource> own(SentResource sent) {
    return forms.of(sent.number());
  }

  private List<? extends BedsideEvent> read(SentResource sent) {
    Resource own = forms.of(sent.number()).orElseThrow();
    try {
      if (own instanceof Encounter encounter && !encounter.hasExtension(Extensions.MOVEMENT)) {
        WardEntries.Told told = WardEntries.read(encounter, resources);
        told.gaps().forEach(gap -> unread.doubt(doubts.gap(sent, gap)));
        return told.movements();
      }
      return TimelineFromFhir.read(own, resources);
    } catch (RuntimeException incomplete) {
      reasons(sent).forEach(issue -> unread.add(sent.name(), placed(sent, issue)));
      return List.of();
    }
  }

  /** What may be the reason that a resource with all that counting needs cannot be read. */
  private List<Issue> reasons(SentResource sent) {
    TreeSet<String> nowhere = leadNowhere.getOrDefault(sent.number(), new TreeSet<>());
    if (!nowhere.isEmpty()) {
      return nowhere.stream().map(url -> unresolved(sent, url)).toList();
    }
    List<Issue> found = doubts.findings(sent);
    return found.isEmpty()
        ? List.of(
            Issue.error(
                IssueCode.NOT_COUNTABLE,
                sent.type(),
                "It does not tell an event; expected all elements and references of its"
                    + " profile."))
        : found;
  }

  static Issue unresolved(SentResource sent, String url) {
    return Issue.error(
        IssueCode.UNRESOLVED_REFERENCE,
        sent.type(),
        "Reference "
            + Words.shown(url)
            + " leads to nothing that was sent; expected the resource along with it.");
  }

  static Issue placed(SentResource sent, Issue issue) {
    return new Issue(
        issue.severity(), issue.code(), issue.diagnostics(), sent.place().at(issue.expression()));
  }
}
