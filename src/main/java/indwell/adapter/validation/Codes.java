package indwell.adapter.validation;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import org.hl7.fhir.r5.context.IWorkerContext;
import org.hl7.fhir.r5.model.CodeSystem;
import org.hl7.fhir.r5.model.CodeSystem.ConceptDefinitionComponent;
import org.hl7.fhir.r5.model.Enumerations.CodeSystemContentMode;
import org.hl7.fhir.r5.model.ValueSet;
import org.hl7.fhir.r5.model.ValueSet.ConceptSetComponent;

/** Names the codes that would have been right, where they are few. */
final class Codes {
  /** More than so many tell a reader nothing at a glance. */
  private static final int FEW = 14;

  private final IWorkerContext context;

  Codes(IWorkerContext context) {
    this.context = context;
  }

  /**
   * The codes of a value set, {@code a, b or c of system}; empty where they are many or unknown.
   */
  Optional<String> ofValueSet(String canonical) {
    ValueSet set = context.fetchResource(ValueSet.class, canonical);
    if (set == null || !set.hasCompose() || set.getCompose().hasExclude()) {
      return Optional.empty();
    }
    Map<String, List<String>> bySystem = new LinkedHashMap<>();
    for (ConceptSetComponent include : set.getCompose().getInclude()) {
      Optional<List<String>> codes = codes(include);
      if (codes.isEmpty()) {
        return Optional.empty();
      }
      bySystem
          .computeIfAbsent(include.getSystem(), system -> new ArrayList<>())
          .addAll(codes.get());
    }
    return sentence(bySystem);
  }

  /** The codes of a code system; empty where they are many or unknown. */
  Optional<String> ofSystem(String system) {
    return all(system).flatMap(codes -> sentence(Map.of(system, codes)));
  }

  private Optional<List<String>> codes(ConceptSetComponent include) {
    if (include.hasFilter() || include.hasValueSet()) {
      return Optional.empty();
    }
    return include.hasConcept()
        ? Optional.of(include.getConcept().stream().map(one -> one.getCode()).toList())
        : all(include.getSystem());
  }

  private Optional<List<String>> all(String system) {
    CodeSystem found = context.fetchCodeSystem(system);
    if (found == null || found.getContent() != CodeSystemContentMode.COMPLETE) {
      return Optional.empty();
    }
    List<String> codes = new ArrayList<>();
    collect(found.getConcept(), codes);
    return Optional.of(codes);
  }

  private static void collect(List<ConceptDefinitionComponent> concepts, List<String> codes) {
    for (ConceptDefinitionComponent concept : concepts) {
      codes.add(concept.getCode());
      collect(concept.getConcept(), codes);
    }
  }

  private static Optional<String> sentence(Map<String, List<String>> bySystem) {
    long count = bySystem.values().stream().mapToLong(List::size).sum();
    if (count == 0 || count > FEW) {
      return Optional.empty();
    }
    return Optional.of(
        bySystem.entrySet().stream()
            .map(one -> or(one.getValue()) + " of " + one.getKey())
            .collect(Collectors.joining(", or ")));
  }

  private static String or(List<String> codes) {
    int last = codes.size() - 1;
    return last == 0
        ? codes.get(0)
        : String.join(", ", codes.subList(0, last)) + " or " + codes.get(last);
  }
}
