package indwell.port;

import indwell.fhir.search.SearchValue;
import java.util.Collection;
import java.util.List;
import java.util.Optional;

/** A condition on the values of one search parameter; it holds when any alternative does. */
public sealed interface SearchCondition
    permits SearchCondition.HasCode,
        SearchCondition.HasText,
        SearchCondition.HasTime,
        SearchCondition.IsMissing {
  /** Name of the search parameter. */
  String parameter();

  /** Whether a resource with these values meets it; other parameters' values may be among them. */
  boolean holds(Collection<SearchValue> values);

  /**
   * One code that is looked for.
   *
   * @param system empty text: the value has none; empty: any
   * @param value empty: any
   */
  record Code(Optional<String> system, Optional<String> value) {
    boolean meets(SearchValue.Coded given) {
      return system.map(given.system()::equals).orElse(true)
          && value.map(given.value()::equals).orElse(true);
    }
  }

  /**
   * A value equals a code or a reference.
   *
   * @param not true: no value does, or there is no value at all
   */
  record HasCode(String parameter, List<Code> anyOf, boolean not) implements SearchCondition {
    public HasCode {
      anyOf = List.copyOf(anyOf);
    }

    @Override
    public boolean holds(Collection<SearchValue> values) {
      return not
          != coded(values, parameter).stream()
              .anyMatch(given -> anyOf.stream().anyMatch(code -> code.meets(given)));
    }
  }

  /**
   * A name begins with a text.
   *
   * @param anyOf in lower case
   */
  record HasText(String parameter, List<String> anyOf) implements SearchCondition {
    public HasText {
      anyOf = List.copyOf(anyOf);
    }

    @Override
    public boolean holds(Collection<SearchValue> values) {
      return coded(values, parameter).stream()
          .map(SearchValue.Coded::value)
          .anyMatch(name -> anyOf.stream().anyMatch(name::startsWith));
    }
  }

  /** A time lies where the comparison asks for. */
  record HasTime(String parameter, List<TimeTest> anyOf) implements SearchCondition {
    public HasTime {
      anyOf = List.copyOf(anyOf);
    }

    @Override
    public boolean holds(Collection<SearchValue> values) {
      return values.stream()
          .filter(SearchValue.Dated.class::isInstance)
          .map(SearchValue.Dated.class::cast)
          .filter(given -> given.parameter().equals(parameter))
          .anyMatch(
              given -> anyOf.stream().anyMatch(test -> test.meets(given.low(), given.high())));
    }
  }

  /** There is no value, or there is one. */
  record IsMissing(String parameter, boolean missing) implements SearchCondition {
    @Override
    public boolean holds(Collection<SearchValue> values) {
      return missing == values.stream().noneMatch(value -> value.parameter().equals(parameter));
    }
  }

  private static List<SearchValue.Coded> coded(Collection<SearchValue> values, String parameter) {
    return values.stream()
        .filter(SearchValue.Coded.class::isInstance)
        .map(SearchValue.Coded.class::cast)
        .filter(given -> given.parameter().equals(parameter))
        .toList();
  }
}
