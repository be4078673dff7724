package indwell.faults;

import indwell.contract.PlainFacility;
import indwell.fhir.map.FhirJson;
import indwell.port.ClinicalStore;
import indwell.port.ResourceQuery;
import indwell.port.StoredResource;
import indwell.usecase.Asked;
import indwell.usecase.DeviceDays;
import indwell.usecase.Facility;
import indwell.usecase.Overdue;
import indwell.usecase.RandomBodies;
import indwell.usecase.ReadResources;
import java.time.Duration;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.stream.Stream;
import org.hl7.fhir.r4.model.Resource;

/**
 * What stands in a store and what it answers, without what depends on the way there.
 *
 * @param standing the newest versions, Provenance and what was withdrawn left out
 * @param answers each ward's day and each flag in force, one a line
 * @param disordered versions of resources that are dated before the one that they replace
 */
record State(List<StoredResource> standing, Set<String> answers, int disordered) {
  private static final int PAGE = 500;
  private static final String WITHDRAWN = "\"entered-in-error\"";
  private static final Facility FACILITY = PlainFacility.in(ZoneOffset.UTC);

  static State of(ClinicalStore store) {
    List<StoredResource> all = all(store);
    return new State(
        all.stream().filter(one -> !one.json().contains(WITHDRAWN)).toList(),
        answers(store),
        disordered(store, all));
  }

  /** How many resources are missing here or there, or are not the same. */
  int resourcesOtherThan(State other) {
    Map<String, String> here = contents();
    Map<String, String> there = other.contents();
    Set<String> keys = new TreeSet<>(here.keySet());
    keys.addAll(there.keySet());
    return (int)
        keys.stream()
            .filter(key -> !here.getOrDefault(key, "").equals(there.getOrDefault(key, "")))
            .count();
  }

  /** How many lines of answers are here or there alone. */
  int answersOtherThan(State other) {
    return (int)
        Stream.concat(answers.stream(), other.answers.stream())
            .filter(line -> !(answers.contains(line) && other.answers.contains(line)))
            .count();
  }

  private Map<String, String> contents() {
    Map<String, String> contents = new TreeMap<>();
    for (StoredResource stored : standing) {
      Resource resource = FhirJson.parse(stored.json());
      resource.setMeta(null);
      resource.setId(resource.getIdElement().getIdPart());
      contents.put(stored.key().reference(), FhirJson.encode(resource));
    }
    return contents;
  }

  private static Set<String> answers(ClinicalStore store) {
    Set<String> lines = new TreeSet<>();
    LocalDate first = RandomBodies.START.atZone(ZoneOffset.UTC).toLocalDate();
    LocalDate last = Story.NOW.atZone(ZoneOffset.UTC).toLocalDate().minusDays(1);
    answered(
            new DeviceDays(store, FACILITY)
                .count(new DeviceDays.Question(Optional.empty(), first, last), Story.NOW))
        .counts()
        .forEach(
            (ward, days) -> days.forEach((date, count) -> lines.add(ward + " " + date + count)));
    Overdue overdue = new Overdue(store, FACILITY);
    for (int days = 1; days <= 14; days++) {
      var asOf = RandomBodies.START.plus(Duration.ofDays(days));
      answered(overdue.at(asOf, Optional.empty(), Story.NOW))
          .raised()
          .forEach(
              one ->
                  lines.add(
                      asOf
                          + " "
                          + one.flag().code()
                          + " "
                          + one.flag().since()
                          + " "
                          + one.patient()
                          + " "
                          + one.ward()));
    }
    return lines;
  }

  private static <T> T answered(Asked<T> asked) {
    return asked.fold(
        value -> value,
        issue -> {
          throw new IllegalStateException("Refused: " + issue);
        });
  }

  private static int disordered(ClinicalStore store, List<StoredResource> all) {
    int disordered = 0;
    for (StoredResource newest : all) {
      List<StoredResource> versions =
          store.read(state -> state.history(newest.key())).stream()
              .sorted(Comparator.comparing(StoredResource::version))
              .toList();
      for (int i = 1; i < versions.size(); i++) {
        if (versions.get(i).lastUpdated().isBefore(versions.get(i - 1).lastUpdated())) {
          disordered++;
        }
      }
    }
    return disordered;
  }

  private static List<StoredResource> all(ClinicalStore store) {
    List<StoredResource> all = new ArrayList<>();
    for (String type : ReadResources.TYPES) {
      if (!type.equals("Provenance")) {
        Optional<String> after = Optional.empty();
        List<StoredResource> page;
        do {
          ResourceQuery query = new ResourceQuery(type, Set.of(), Set.of(), Set.of(), after, PAGE);
          page = store.read(state -> state.search(query));
          all.addAll(page);
          after = page.isEmpty() ? after : Optional.of(page.get(page.size() - 1).key().id());
        } while (page.size() == PAGE);
      }
    }
    return all;
  }
}
