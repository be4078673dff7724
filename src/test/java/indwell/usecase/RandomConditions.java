package indwell.usecase;

import indwell.fhir.search.SearchParameter;
import indwell.fhir.search.SearchParameter.Kind;
import indwell.fhir.search.SearchParameters;
import indwell.fhir.search.SearchValue;
import indwell.fhir.search.SearchValue.Coded;
import indwell.fhir.search.SearchValue.Dated;
import indwell.port.SearchCondition;
import indwell.port.SearchCondition.Code;
import indwell.port.SearchCondition.HasCode;
import indwell.port.SearchCondition.HasText;
import indwell.port.SearchCondition.HasTime;
import indwell.port.SearchCondition.IsMissing;
import indwell.port.TimeTest;
import indwell.port.TimeTest.Prefix;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.Set;

/** Conditions on every parameter of a type, made of values that there are and some that are not. */
final class RandomConditions {
  private static final int VALUES = 4;
  private static final long HOUR = 3_600_000;

  private RandomConditions() {}

  static List<SearchCondition> of(String type, List<List<SearchValue>> all) {
    List<SearchCondition> conditions = new ArrayList<>();
    for (SearchParameter parameter : SearchParameters.of(type)) {
      // These are no conditions but parts of a query.
      if (!Set.of("_id", "patient", "subject").contains(parameter.name())) {
        conditions.add(new IsMissing(parameter.name(), true));
        conditions.add(new IsMissing(parameter.name(), false));
        List<SearchValue> values =
            new ArrayList<>(
                all.stream()
                    .flatMap(List::stream)
                    .filter(value -> value.parameter().equals(parameter.name()))
                    .distinct()
                    .toList());
        Collections.shuffle(values, new Random(type.length()));
        List<SearchValue> some = values.subList(0, Math.min(VALUES, values.size()));
        some.forEach(value -> add(conditions, parameter.kind(), value));
        addCodes(conditions, parameter, some);
      }
    }
    return conditions;
  }

  private static void add(List<SearchCondition> conditions, Kind kind, SearchValue value) {
    if (value instanceof Dated time) {
      for (Prefix prefix : Prefix.values()) {
        addTimes(conditions, prefix, time);
      }
    } else if (kind == Kind.STRING) {
      String name = ((Coded) value).value();
      conditions.add(new HasText(value.parameter(), List.of(name)));
      conditions.add(new HasText(value.parameter(), List.of("zz", name.substring(0, 1))));
      conditions.add(new HasText(value.parameter(), List.of(name + "x")));
    }
  }

  /** The time itself, less of it, more of it, and times that touch it on either side. */
  private static void addTimes(List<SearchCondition> conditions, Prefix prefix, Dated time) {
    long low = time.low() == Long.MIN_VALUE ? 0 : time.low();
    long high = time.high() == Long.MAX_VALUE ? low + HOUR : time.high();
    for (long[] asked :
        new long[][] {
          {low, high},
          {low, low + 1},
          {low - HOUR, high + HOUR},
          {low - HOUR, low},
          {high, high + HOUR},
          {low + 1, high + 1}
        }) {
      conditions.add(
          new HasTime(time.parameter(), List.of(new TimeTest(prefix, asked[0], asked[1]))));
    }
    conditions.add(
        new HasTime(
            time.parameter(),
            List.of(new TimeTest(prefix, 0, 1), new TimeTest(Prefix.EQ, low, high))));
  }

  private static void addCodes(
      List<SearchCondition> conditions, SearchParameter parameter, List<SearchValue> values) {
    if (parameter.kind() != Kind.TOKEN && parameter.kind() != Kind.REFERENCE) {
      return;
    }
    List<Code> codes = new ArrayList<>();
    codes.add(new Code(Optional.empty(), Optional.of("no-such-code")));
    for (SearchValue one : values) {
      Coded value = (Coded) one;
      codes.add(new Code(Optional.of(value.system()), Optional.of(value.value())));
      codes.add(new Code(Optional.empty(), Optional.of(value.value())));
      codes.add(new Code(Optional.of(value.system()), Optional.empty()));
      codes.add(new Code(Optional.of("urn:other"), Optional.of(value.value())));
      codes.add(new Code(Optional.of(value.system()), Optional.of(value.value() + "x")));
    }
    for (Code code : codes) {
      conditions.add(new HasCode(parameter.name(), List.of(code), false));
      conditions.add(new HasCode(parameter.name(), List.of(code), true));
    }
    conditions.add(new HasCode(parameter.name(), codes, false));
    conditions.add(new HasCode(parameter.name(), codes, true));
    conditions.add(new HasCode(parameter.name(), List.of(), false));
  }
}
