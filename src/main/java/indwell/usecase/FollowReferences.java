package indwell.usecase;

import indwell.domain.refusal.IssueCode;
import indwell.fhir.map.FhirJson;
import indwell.fhir.search.SearchParameters;
import indwell.fhir.search.SearchValue;
import indwell.fhir.search.SearchValues;
import indwell.port.ClinicalStore.Reading;
import indwell.port.ResourceKey;
import indwell.port.ResourceQuery;
import indwell.port.SearchCondition;
import indwell.port.SearchCondition.Code;
import indwell.port.SearchCondition.HasCode;
import indwell.port.SearchOrder;
import indwell.port.StoredResource;
import indwell.usecase.SearchResources.Link;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/** Finds what resources refer to, and what refers to them. */
final class FollowReferences {
  /** So many may be added to a page; more is refused, for a part of them would mislead. */
  static final int MOST = 5_000;

  private static final Set<String> PATIENT =
      Set.of(SearchParameters.PATIENT, SearchParameters.SUBJECT);

  private final Reading state;
  private final List<StoredResource> page;
  private final Map<ResourceKey, StoredResource> added = new LinkedHashMap<>();

  FollowReferences(Reading state, List<StoredResource> page) {
    this.state = state;
    this.page = page;
  }

  /** The added resources, each once, none that is on the page itself. */
  Asked<List<StoredResource>> follow(List<Link> forward, List<Link> reverse) {
    if (!page.isEmpty()) {
      addNamed(forward);
      reverse.forEach(this::addNaming);
    }
    page.forEach(one -> added.remove(one.key()));
    return added.size() > MOST
        ? Asked.refuse(
            IssueCode.TOO_MANY_FOLLOWED,
            "_include",
            "More than "
                + MOST
                + " resources would have to be added to the page; expected a smaller _count.")
        : Asked.answer(List.copyOf(added.values()));
  }

  private void addNamed(List<Link> links) {
    Set<ResourceKey> named = new LinkedHashSet<>();
    for (StoredResource resource : page) {
      List<SearchValue> values =
          links.isEmpty() ? List.of() : SearchValues.of(FhirJson.parse(resource.json()));
      links.forEach(link -> references(resource, values, link).forEach(named::add));
    }
    state.resources(named).forEach(added::put);
  }

  private static Stream<ResourceKey> references(
      StoredResource resource, List<SearchValue> values, Link link) {
    Stream<String> references =
        PATIENT.contains(link.parameter())
            ? Stream.of("Patient/" + resource.patientId())
            : values.stream()
                .filter(value -> value.parameter().equals(link.parameter()))
                .map(value -> ((SearchValue.Coded) value).value());
    return references
        .filter(reference -> reference.startsWith(link.target() + "/"))
        .map(FollowReferences::key);
  }

  private static ResourceKey key(String reference) {
    int slash = reference.indexOf('/');
    return new ResourceKey(reference.substring(0, slash), reference.substring(slash + 1));
  }

  private void addNaming(Link link) {
    Set<String> patients = new LinkedHashSet<>();
    List<SearchCondition> conditions = new ArrayList<>();
    if (PATIENT.contains(link.parameter())) {
      patients.addAll(page.stream().map(one -> one.key().id()).collect(Collectors.toSet()));
    } else {
      List<Code> references =
          page.stream()
              .map(one -> new Code(Optional.empty(), Optional.of(one.key().reference())))
              .toList();
      conditions.add(new HasCode(link.parameter(), references, false));
    }
    state
        .search(
            new ResourceQuery(
                link.source(),
                Set.of(),
                Set.of(),
                patients,
                conditions,
                SearchOrder.BY_ID,
                Optional.empty(),
                MOST + 1))
        .forEach(one -> added.put(one.key(), one));
  }
}
