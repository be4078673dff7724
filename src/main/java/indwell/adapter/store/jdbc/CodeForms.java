package indwell.adapter.store.jdbc;

import indwell.port.SearchCondition.Code;
import java.util.List;
import java.util.Optional;

/**
 * Codes that are asked for, by their form: any number of each makes the same statement.
 *
 * @param full with a system, which may be the empty one, and a value
 * @param values of any system
 * @param systems with any value
 */
public record CodeForms(List<Code> full, List<String> values, List<String> systems) {

  /** These codes, by their form. */
  public static CodeForms of(List<Code> codes) {
    return new CodeForms(
        codes.stream()
            .filter(code -> code.system().isPresent() && code.value().isPresent())
            .toList(),
        codes.stream()
            .filter(code -> code.system().isEmpty())
            .map(Code::value)
            .flatMap(Optional::stream)
            .toList(),
        codes.stream()
            .filter(code -> code.value().isEmpty())
            .map(Code::system)
            .flatMap(Optional::stream)
            .toList());
  }
}
