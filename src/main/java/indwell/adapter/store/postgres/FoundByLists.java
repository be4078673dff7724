package indwell.adapter.store.postgres;

import indwell.adapter.store.jdbc.CodeForms;
import indwell.adapter.store.jdbc.Condition;
import indwell.adapter.store.jdbc.FoundBy;
import indwell.adapter.store.jdbc.FoundByRows;
import indwell.adapter.store.jdbc.Insert;
import indwell.port.SearchCondition.Code;
import indwell.port.SearchCondition.HasCode;
import java.util.Collection;
import java.util.List;
import java.util.Optional;

/**
 * A row for each resource, with lists: table {@code found_by}. Its inverted index takes names in by
 * the hundred, which costs a fraction of a row for each of them with indexes of its own.
 */
final class FoundByLists implements FoundBy {
  /** By the views that give rows. */
  private final FoundByRows rows = new FoundByRows();

  @Override
  public List<String> tables() {
    return List.of("found_by");
  }

  @Override
  public List<Insert.Rows<?>> rows(Collection<Found> found) {
    return List.of(FoundRow.INSERT.rows(found.stream().map(FoundRow::of).toList()));
  }

  @Override
  public void has(Condition sql, HasCode asked) {
    CodeForms forms = CodeForms.of(asked.anyOf());
    if (forms.systems().isEmpty() && forms.full().stream().allMatch(FoundByLists::hasSystem)) {
      overlaps(sql, asked, forms);
    } else {
      rows.candidateHas(sql, asked);
    }
  }

  private static boolean hasSystem(Code code) {
    return !code.system().orElse("").isEmpty();
  }

  private static void overlaps(Condition sql, HasCode asked, CodeForms forms) {
    String parameter = asked.parameter();
    List<String> tokens =
        forms.full().stream()
            .map(
                code ->
                    FoundRow.token(parameter, code.system().orElse(""), code.value().orElse("")))
            .toList();
    String names = SHARED_BY_MANY.contains(parameter) ? "i.looked_at" : "i.looked_up";
    if (asked.not() || SHARED_BY_MANY.contains(parameter)) {
      sql.sql("EXISTS (SELECT 1 FROM found_by i WHERE i.reference = r.reference AND (1 = 0");
    } else {
      sql.sql("r.reference IN (SELECT i.reference FROM found_by i WHERE ");
      sql.list("i.looked_up && ? AND (1 = 0", names(parameter, valuesOf(asked)));
    }
    if (!forms.values().isEmpty()) {
      sql.list(" OR " + names + " && ?", names(parameter, forms.values()));
    }
    if (!tokens.isEmpty()) {
      sql.list(" OR i.tokens && ?", tokens);
    }
    sql.sql("))");
  }

  private static List<String> valuesOf(HasCode asked) {
    return asked.anyOf().stream().map(Code::value).flatMap(Optional::stream).toList();
  }

  private static List<String> names(String parameter, List<String> values) {
    return values.stream().map(value -> FoundRow.name(parameter, value)).toList();
  }

  @Override
  public boolean boundsTimes(String parameter) {
    return !parameter.equals(FoundRow.RECORDED);
  }
}
