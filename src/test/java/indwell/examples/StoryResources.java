package indwell.examples;

import indwell.domain.event.BedsideEvent;
import indwell.domain.timeline.Timeline;
import indwell.fhir.map.Draft;
import indwell.fhir.map.FhirJson;
import indwell.fhir.map.MappingContext;
import indwell.fhir.map.ResourcePlan;
import java.io.IOException;
import java.util.List;
import java.util.TreeMap;
import java.util.stream.Collectors;

/** The current clinical resources of a story, one a line, by type and id. */
final class StoryResources {
  private StoryResources() {}

  static String of(Story story) throws IOException {
    MappingContext context = new MappingContext(story.calendar().zone());
    TreeMap<String, String> byReference = new TreeMap<>();
    for (List<BedsideEvent> events : story.currentEvents().values()) {
      for (Draft draft : ResourcePlan.of(Timeline.of(events), context).drafts()) {
        byReference.put(draft.id().text(), FhirJson.encode(draft.build()));
      }
    }
    return byReference.values().stream().collect(Collectors.joining("\n", "", "\n"));
  }
}
