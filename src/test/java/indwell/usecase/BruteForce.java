package indwell.usecase;

import indwell.fhir.search.SearchValue;
import indwell.fhir.search.SearchValue.Coded;
import indwell.fhir.search.SearchValue.Dated;
import indwell.port.SearchCondition;
import indwell.port.SearchCondition.HasCode;
import indwell.port.SearchCondition.HasText;
import indwell.port.SearchCondition.HasTime;
import indwell.port.SearchCondition.IsMissing;
import indwell.port.TimeTest;
import java.util.List;

/**
 * What conditions mean, said once more and in other words than the service's: times are compared by
 * whether the sets of milliseconds before, in and after the time asked for are met
 * (https://hl7.org/fhir/R4/search.html#prefix).
 */
final class BruteForce {
  private BruteForce() {}

  static boolean holds(SearchCondition condition, List<SearchValue> values) {
    List<SearchValue> own =
        values.stream().filter(v -> v.parameter().equals(condition.parameter())).toList();
    if (condition instanceof IsMissing asked) {
      return own.isEmpty() == asked.missing();
    }
    if (condition instanceof HasCode asked) {
      boolean found = own.stream().anyMatch(value -> hasOneOf((Coded) value, asked));
      return asked.not() ? !found : found;
    }
    if (condition instanceof HasText asked) {
      return own.stream()
          .map(value -> ((Coded) value).value())
          .anyMatch(name -> asked.anyOf().stream().anyMatch(text -> name.indexOf(text) == 0));
    }
    HasTime asked = (HasTime) condition;
    return own.stream()
        .map(Dated.class::cast)
        .anyMatch(time -> asked.anyOf().stream().anyMatch(test -> meets(test, time)));
  }

  private static boolean hasOneOf(Coded value, HasCode asked) {
    for (SearchCondition.Code code : asked.anyOf()) {
      boolean system = code.system().isEmpty() || code.system().get().equals(value.system());
      boolean same = code.value().isEmpty() || code.value().get().equals(value.value());
      if (system && same) {
        return true;
      }
    }
    return false;
  }

  private static boolean meets(TimeTest test, Dated time) {
    boolean someBefore = time.low() < test.low();
    boolean someAfter = time.high() > test.high();
    boolean allBefore = time.high() <= test.low();
    boolean allAfter = time.low() >= test.high();
    boolean inside = !someBefore && !someAfter;
    return switch (test.prefix()) {
      case EQ -> inside;
      case NE -> someBefore || someAfter;
      case LT -> someBefore;
      case GT -> someAfter;
      case LE -> someBefore || inside;
      case GE -> someAfter || inside;
      case EB -> allBefore;
      case SA -> allAfter;
      case AP -> !allBefore && !allAfter;
    };
  }
}
