package indwell.web.fhir;

import indwell.fhir.search.SearchParameter;
import indwell.fhir.search.SearchParameters;
import indwell.port.ResourceQuery;
import indwell.port.SearchCondition;
import indwell.port.SearchCondition.Code;
import indwell.port.SearchCondition.HasCode;
import indwell.port.SearchCondition.HasText;
import indwell.port.SearchCondition.HasTime;
import indwell.port.SearchCondition.IsMissing;
import indwell.port.SearchOrder;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import java.util.function.BiFunction;

/** Makes conditions for the store of the parameters of a search; all of them hold together. */
final class SearchSelection {
  private static final Set<String> PATIENT_NAMES =
      Set.of(SearchParameters.PATIENT, SearchParameters.SUBJECT);

  private final String base;
  private final SearchTime times;
  private final BiFunction<String, SearchCondition, Set<String>> chains;
  private final List<SearchCondition> conditions = new ArrayList<>();
  private Optional<Set<String>> ids = Optional.empty();
  private Optional<Set<String>> patientIds = Optional.empty();
  private boolean impossible;

  /**
   * @param base absolute URL of {@code /fhir}, which references may begin with
   * @param chains finds the ids of the resources of a type that meet a condition
   */
  SearchSelection(
      String base, SearchTime times, BiFunction<String, SearchCondition, Set<String>> chains) {
    this.base = base;
    this.times = times;
    this.chains = chains;
  }

  /** The query; empty when nothing can meet it. */
  Optional<ResourceQuery> query(
      String type, SearchOrder order, Optional<String> afterId, int limit) {
    boolean none =
        impossible
            || ids.filter(Set::isEmpty).isPresent()
            || patientIds.filter(Set::isEmpty).isPresent();
    return none
        ? Optional.empty()
        : Optional.of(
            new ResourceQuery(
                type,
                ids.orElse(Set.of()),
                Set.of(),
                patientIds.orElse(Set.of()),
                conditions,
                order,
                afterId,
                limit));
  }

  /**
   * Adds a parameter.
   *
   * @throws FhirRefusal 400 for a modifier that it does not have and a value that it cannot have
   */
  void add(SearchTerm term) {
    if (term.modifier().filter("missing"::equals).isPresent() && term.chain().isEmpty()) {
      addMissing(term);
      return;
    }
    switch (term.parameter().kind()) {
      case TOKEN -> addToken(term);
      case DATE -> addTime(term);
      case STRING -> addText(term);
      case REFERENCE -> addReference(term);
    }
  }

  /** Id, time of writing and patient are never missing where a type has them. */
  private void addMissing(SearchTerm term) {
    if (!term.text().equals("true") && !term.text().equals("false")) {
      throw term.bad("is no answer to whether it is missing; expected true or false.");
    }
    boolean missing = term.text().equals("true");
    boolean always = term.name().startsWith("_") || PATIENT_NAMES.contains(term.name());
    if (!always) {
      conditions.add(new IsMissing(term.name(), missing));
    } else if (missing) {
      impossible = true;
    }
  }

  private void addToken(SearchTerm term) {
    boolean isId = term.name().equals(SearchParameters.ID);
    boolean not = term.modifier().filter("not"::equals).isPresent() && !isId;
    if ((term.modifier().isPresent() && !not) || term.chain().isPresent()) {
      throw term.unsupported(isId ? "none or :missing" : "none, :not or :missing");
    }
    if (isId) {
      ids = both(ids, new HashSet<>(term.alternatives()));
    } else {
      conditions.add(
          new HasCode(
              term.name(),
              term.alternatives().stream().map(text -> code(term, text)).toList(),
              not));
    }
  }

  static Code code(SearchTerm term, String text) {
    int bar = SearchTerm.indexOf('|', text);
    if (bar < 0) {
      return new Code(Optional.empty(), Optional.of(SearchTerm.unescaped(text)));
    }
    String system = SearchTerm.unescaped(text.substring(0, bar));
    String value = SearchTerm.unescaped(text.substring(bar + 1));
    if (system.isEmpty() && value.isEmpty()) {
      throw term.incomplete();
    }
    return new Code(Optional.of(system), value.isEmpty() ? Optional.empty() : Optional.of(value));
  }

  private void addTime(SearchTerm term) {
    if (term.modifier().isPresent() || term.chain().isPresent()) {
      throw term.unsupported("none or :missing");
    }
    conditions.add(
        new HasTime(
            term.name(),
            term.alternatives().stream()
                .map(
                    text ->
                        times
                            .read(text)
                            .orElseThrow(
                                () ->
                                    term.bad(
                                        "is no date; expected one such as ge2026-03-01 or"
                                            + " 2026-03-01T12:00:00+01:00, with eq, ne, gt, lt,"
                                            + " ge, le, sa, eb, ap or nothing before it.")))
                .toList()));
  }

  private void addText(SearchTerm term) {
    if (term.modifier().isPresent() || term.chain().isPresent()) {
      throw term.unsupported("none or :missing");
    }
    conditions.add(
        new HasText(
            term.name(),
            term.alternatives().stream()
                .map(text -> SearchTerm.unescaped(text).toLowerCase(Locale.ROOT))
                .toList()));
  }

  private void addReference(SearchTerm term) {
    List<String> references =
        term.chain().isPresent() ? chained(term) : new References(base).read(term);
    if (PATIENT_NAMES.contains(term.name())) {
      Set<String> patients = new HashSet<>();
      for (String reference : references) {
        if (reference.startsWith("Patient/")) {
          patients.add(reference.substring("Patient/".length()));
        }
      }
      patientIds = both(patientIds, patients);
    } else {
      conditions.add(
          new HasCode(
              term.name(),
              references.stream()
                  .map(reference -> new Code(Optional.empty(), Optional.of(reference)))
                  .toList(),
              false));
    }
  }

  /** Only identifiers are looked at behind a reference. */
  private List<String> chained(SearchTerm term) {
    SearchParameter parameter = term.parameter();
    List<String> targets = References.targets(term);
    if (!term.chain().filter(SearchParameters.IDENTIFIER::equals).isPresent()) {
      throw term.unsupported(parameter.name() + "." + SearchParameters.IDENTIFIER);
    }
    HasCode identified =
        new HasCode(
            SearchParameters.IDENTIFIER,
            term.alternatives().stream().map(text -> code(term, text)).toList(),
            false);
    return targets.stream()
        .flatMap(type -> chains.apply(type, identified).stream().map(id -> type + "/" + id))
        .toList();
  }

  private static Optional<Set<String>> both(Optional<Set<String>> one, Set<String> two) {
    Set<String> both = new HashSet<>(two);
    one.ifPresent(both::retainAll);
    return Optional.of(both);
  }
}
