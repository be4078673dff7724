package indwell.oracle;

import indwell.domain.event.BedsideEvent;
import indwell.domain.event.Movement.Arrival;
import indwell.domain.event.Ward;
import indwell.domain.time.FacilityCalendar;
import indwell.domain.timeline.EligibilityCount;
import indwell.domain.timeline.Timeline;
import indwell.domain.timeline.WardDayCount;
import indwell.fhir.map.FhirJson;
import indwell.fhir.timeline.TimelineFromFhir;
import indwell.port.ClinicalStore;
import indwell.port.ResourceQuery;
import indwell.port.StoredResource;
import indwell.usecase.ReadResources;
import java.time.LocalTime;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import org.hl7.fhir.r4.model.Resource;

/** Both counters from the FHIR resources of a store alone: neither its events nor its index. */
final class ResourceCounters {
  private static final int ALL = 100_000;

  private ResourceCounters() {}

  static Answers count(ClinicalStore store, History history) {
    Map<String, List<BedsideEvent>> events = events(store);
    Answers answers = new Answers();
    denominator(events, history, answers);
    FacilityCalendar calendar = new FacilityCalendar(history.zone());
    for (History.Question asked : history.questions()) {
      List<BedsideEvent> known =
          events.getOrDefault(ServiceCounters.idOf(asked.patient()), List.of());
      Timeline timeline = Timeline.asOf(known, asked.asOf());
      timeline
          .latestStayBegunBy(asked.asOf())
          .ifPresent(
              stay ->
                  new EligibilityCount(timeline, calendar)
                      .days(stay, asked.asOf())
                      .forEach(day -> ServiceCounters.add(answers, asked, day)));
    }
    return answers;
  }

  private static void denominator(
      Map<String, List<BedsideEvent>> events, History history, Answers answers) {
    Set<Ward> wards = new TreeSet<>();
    for (List<BedsideEvent> ofPatient : events.values()) {
      for (BedsideEvent event : ofPatient) {
        if (event instanceof Arrival arrival && arrival.inpatient()) {
          wards.add(arrival.ward());
        }
      }
    }
    WardDayCount count =
        new WardDayCount(
            new FacilityCalendar(history.zone()),
            (ward, date) -> countTime(history, ward),
            wards,
            history.firstDate(),
            history.lastDate());
    events.values().forEach(ofPatient -> count.add(Timeline.of(ofPatient)));
    ServiceCounters.add(answers, count.counts());
  }

  private static LocalTime countTime(History history, Ward ward) {
    return history.wardCountTimes().getOrDefault(ward.code(), history.countTime());
  }

  /** The events that the resources tell, by patient. */
  private static Map<String, List<BedsideEvent>> events(ClinicalStore store) {
    Map<String, List<Resource>> resources = new TreeMap<>();
    for (String type : ReadResources.TYPES) {
      ResourceQuery all =
          new ResourceQuery(type, Set.of(), Set.of(), Set.of(), Optional.empty(), ALL);
      for (StoredResource one : store.read(state -> state.search(all))) {
        resources
            .computeIfAbsent(one.patientId(), id -> new ArrayList<>())
            .add(FhirJson.parse(one.json()));
      }
    }
    Map<String, List<BedsideEvent>> events = new TreeMap<>();
    resources.forEach((patient, of) -> events.put(patient, TimelineFromFhir.events(of)));
    return events;
  }
}
