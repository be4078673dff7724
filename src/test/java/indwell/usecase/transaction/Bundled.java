package indwell.usecase.transaction;

import indwell.domain.event.BedsideEvent;
import indwell.domain.timeline.Timeline;
import indwell.fhir.map.Draft;
import indwell.fhir.map.FhirJson;
import indwell.fhir.map.MappingContext;
import indwell.fhir.map.ResourcePlan;
import indwell.usecase.transaction.Entry.Verb;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.hl7.fhir.r4.model.Reference;
import org.hl7.fhir.r4.model.Resource;

/** Resources as the entries of a transaction, the way a sender makes them. */
final class Bundled {
  static final String BASE = "http://localhost/fhir";

  private Bundled() {}

  /** The resources that the events make, without the ids that only this service knows. */
  static List<Resource> resources(List<BedsideEvent> events, MappingContext context) {
    List<Resource> resources = new ArrayList<>();
    for (Draft draft : ResourcePlan.of(Timeline.of(events), context).drafts()) {
      resources.add(FhirJson.parse(FhirJson.encode(draft.build())));
    }
    return resources;
  }

  /** One POST each; they refer to each other by {@code urn:uuid}. */
  static List<Entry> posted(List<Resource> resources) {
    Map<String, String> fullUrls = new HashMap<>();
    for (Resource resource : resources) {
      String reference = resource.fhirType() + "/" + resource.getIdElement().getIdPart();
      UUID uuid = UUID.nameUUIDFromBytes(reference.getBytes(StandardCharsets.UTF_8));
      fullUrls.put(reference, "urn:uuid:" + uuid);
    }
    List<Entry> entries = new ArrayList<>();
    for (Resource resource : resources) {
      String own = resource.fhirType() + "/" + resource.getIdElement().getIdPart();
      Resource sent = resource.copy();
      sent.setId((String) null);
      for (Reference reference :
          FhirJson.context()
              .newTerser()
              .getAllPopulatedChildElementsOfType(sent, Reference.class)) {
        reference.setReference(
            fullUrls.getOrDefault(reference.getReference(), reference.getReference()));
      }
      entries.add(entry(entries.size(), Verb.POST, sent.fhirType(), fullUrls.get(own), sent));
    }
    return entries;
  }

  /** The last word of the canonical URL of a resource's profile. */
  static String profile(Resource resource) {
    return last(resource.getMeta().getProfile().get(0).getValue());
  }

  /** The last word of a canonical URL. */
  static String last(String canonical) {
    return canonical.substring(canonical.lastIndexOf('/') + 1);
  }

  static Entry entry(int index, Verb verb, String url, String fullUrl, Resource resource) {
    return new Entry(
        index,
        verb,
        url,
        Optional.ofNullable(fullUrl),
        Optional.empty(),
        Optional.empty(),
        Optional.of(FhirJson.encode(resource).getBytes(StandardCharsets.UTF_8)));
  }
}
