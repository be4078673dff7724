package indwell.adapter.store.postgres;

import static java.util.stream.Collectors.joining;

import indwell.adapter.store.jdbc.CodeForms;
import indwell.adapter.store.jdbc.Condition;
import indwell.adapter.store.jdbc.FoundBy;
import indwell.adapter.store.jdbc.FoundByRows;
import indwell.adapter.store.jdbc.Insert;
import indwell.fhir.search.SearchValue.Coded;
import indwell.fhir.search.SearchValue.Dated;
import indwell.port.SearchCondition.Code;
import indwell.port.SearchCondition.HasCode;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import java.util.function.ToLongFunction;
import java.util.stream.LongStream;
import java.util.stream.Stream;

/**
 * A row for each resource, with lists: table {@code found_by}. Its inverted index takes names in by
 * the hundred, which costs a fraction of a row for each of them with indexes of its own.
 */
final class FoundByLists implements FoundBy {
  /** The parameter of when something was written, which may be years after it was done. */
  private static final String RECORDED = "recorded";

  private static final Insert<Found> INSERT =
      Insert.<Found>into("found_by")
          .text("reference", Found::reference)
          .converted("looked_up", "TEXT[]", found -> texts(lookedUp(found), FoundByLists::name))
          .converted("looked_at", "TEXT[]", found -> texts(lookedAt(found), FoundByLists::name))
          .converted(
              "tokens",
              "TEXT[]",
              found ->
                  texts(Stream.concat(lookedUp(found), lookedAt(found)), FoundByLists::tokenOrNone))
          .converted("times", "TEXT[]", found -> texts(found.times(), Dated::parameter))
          .converted("lows", "BIGINT[]", found -> numbers(found, Dated::low))
          .converted("highs", "BIGINT[]", found -> numbers(found, Dated::high))
          .number("first", found -> bounds(found).min().orElse(Long.MAX_VALUE))
          .number("last", found -> bounds(found).max().orElse(Long.MIN_VALUE));

  /** By the views that give rows. */
  private final FoundByRows rows = new FoundByRows();

  @Override
  public List<String> tables() {
    return List.of("found_by");
  }

  @Override
  public List<Insert.Rows<?>> rows(Collection<Found> found) {
    return List.of(INSERT.rows(found));
  }

  private static Stream<Coded> lookedUp(Found found) {
    return Stream.concat(
        found.codes().filter(code -> !SHARED_BY_MANY.contains(code.parameter())),
        found.identifiers());
  }

  private static Stream<Coded> lookedAt(Found found) {
    return found.codes().filter(code -> SHARED_BY_MANY.contains(code.parameter()));
  }

  private static String name(Coded code) {
    return name(code.parameter(), code.value());
  }

  private static String name(String parameter, String value) {
    return parameter + "=" + value;
  }

  private static String tokenOrNone(Coded code) {
    return code.system().isEmpty() ? "" : token(code.parameter(), code.system(), code.value());
  }

  private static String token(String parameter, String system, String value) {
    return parameter + "=" + system + "|" + value;
  }

  /** The end of a stretch may stand before its start. */
  private static LongStream bounds(Found found) {
    return found
        .times()
        .filter(time -> !time.parameter().equals(RECORDED))
        .flatMapToLong(time -> LongStream.of(time.low(), time.high()));
  }

  private static String numbers(Found found, ToLongFunction<Dated> number) {
    return found.times().mapToLong(number).mapToObj(Long::toString).collect(joining(",", "{", "}"));
  }

  /** Quoted each, as array input has it (PostgreSQL 17, 8.15.6). */
  private static <V> String texts(Stream<V> values, Function<V, String> text) {
    return values.map(text).map(FoundByLists::quoted).collect(joining(",", "{", "}"));
  }

  private static String quoted(String text) {
    return '"' + text.replace("\\", "\\\\").replace("\"", "\\\"") + '"';
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
            .map(code -> token(parameter, code.system().orElse(""), code.value().orElse("")))
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
    return values.stream().map(value -> name(parameter, value)).toList();
  }

  @Override
  public boolean boundsTimes(String parameter) {
    return !parameter.equals(RECORDED);
  }
}
