package indwell.adapter.store.jdbc;

import indwell.fhir.search.SearchValue;
import indwell.fhir.search.SearchValue.Coded;
import indwell.fhir.search.SearchValue.Dated;
import indwell.port.SearchCondition.HasCode;
import indwell.port.StoredResource;
import java.util.Collection;
import java.util.List;
import java.util.Set;
import java.util.stream.Stream;

/**
 * How a database keeps what the newest versions of resources are found by. Whichever way, tables or
 * views {@code search_code}, {@code resource_identifier} and {@code search_time} give it by {@code
 * reference}, with {@code parameter}, {@code system} and {@code value}, or {@code low} and {@code
 * high}.
 */
public interface FoundBy {
  /** The parameter of the identifiers. */
  String IDENTIFIER = "identifier";

  /** Parameters whose values many resources share: to look one up first would gain nothing. */
  Set<String> SHARED_BY_MANY = Set.of("status", "category", "class", "type", "name");

  /**
   * What one resource is found by.
   *
   * @param resource its newest version
   * @param values each once; its identifiers are not among them
   */
  record Found(StoredResource resource, List<SearchValue> values) {

    /** Type and id. */
    public String reference() {
      return resource.key().reference();
    }

    /** Codes, references and names. */
    public Stream<Coded> codes() {
      return values.stream().filter(Coded.class::isInstance).map(Coded.class::cast);
    }

    /** Times. */
    public Stream<Dated> times() {
      return values.stream().filter(Dated.class::isInstance).map(Dated.class::cast);
    }

    /** Identifiers, each once. */
    public Stream<Coded> identifiers() {
      return resource.identifiers().stream().distinct().map(Found::identifier);
    }

    private static Coded identifier(String token) {
      int bar = token.indexOf('|');
      return new Coded(IDENTIFIER, token.substring(0, Math.max(bar, 0)), token.substring(bar + 1));
    }
  }

  /** Tables that name what they know of a resource by {@code reference}. */
  List<String> tables();

  /** Takes away what these resources were found by until now. */
  default List<Step> forget(Dialect dialect, Collection<String> references) {
    return tables().stream()
        .map(table -> Step.deletion(dialect, table, "reference", references))
        .toList();
  }

  /**
   * The rows that say what they are found by. What was there before must be forgotten: not every
   * database would notice a row that is there already.
   */
  List<Insert.Rows<?>> rows(Collection<Found> found);

  /**
   * Writes the condition that row {@code r} of table {@code resource} has one of the codes, of
   * which there is one at least. Whether they are wanted or not is left to the caller.
   */
  void has(Condition sql, HasCode asked);

  /**
   * Whether rows of that parameter's times have bounds of the times of their resource, {@code
   * first} and {@code last}.
   */
  boolean boundsTimes(String parameter);
}
