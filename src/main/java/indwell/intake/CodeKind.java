package indwell.intake;

import indwell.domain.refusal.IssueCode;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;

/** One of a closed list of codes. */
final class CodeKind<E> implements FieldKind<E> {
  private final Map<String, E> byCode = new LinkedHashMap<>();
  private final String expected;

  CodeKind(E[] all, Function<E, String> codeOf) {
    for (E one : all) {
      byCode.put(codeOf.apply(one), one);
    }
    expected = alternatives(new ArrayList<>(byCode.keySet()));
  }

  @Override
  public String expected() {
    return expected;
  }

  Optional<E> find(String code) {
    return Optional.ofNullable(byCode.get(code));
  }

  @Override
  public Optional<E> read(Object value, String path, Faults faults) {
    if (!(value instanceof String code)) {
      faults.wrongType(path, value, expected);
      return Optional.empty();
    }
    Optional<E> found = find(code);
    if (found.isEmpty()) {
      faults.add(
          IssueCode.UNKNOWN_CODE,
          path,
          "Code %s of field %s is unknown; expected %s."
              .formatted(Quoted.text(code), path, expected));
    }
    return found;
  }

  private static String alternatives(List<String> codes) {
    int last = codes.size() - 1;
    return last == 0
        ? codes.get(0)
        : String.join(", ", codes.subList(0, last)) + " or " + codes.get(last);
  }
}
