package indwell.fhir.search;

import indwell.fhir.term.Systems;
import java.util.List;
import java.util.Optional;

/**
 * A search parameter of one type of resource.
 *
 * @param name as in a query
 * @param targets types that a reference points to, the first one meant by an id alone; empty for
 *     other kinds
 * @param definition canonical of its SearchParameter where it is our own
 */
public record SearchParameter(
    String name, Kind kind, List<String> targets, Optional<String> definition) {
  public SearchParameter {
    targets = List.copyOf(targets);
  }

  /** How values are compared (https://hl7.org/fhir/R4/search.html#ptypes). */
  public enum Kind {
    TOKEN,
    REFERENCE,
    DATE,
    /** A name, found by how it begins, without regard to case. */
    STRING
  }

  static SearchParameter token(String name) {
    return new SearchParameter(name, Kind.TOKEN, List.of(), Optional.empty());
  }

  static SearchParameter date(String name) {
    return new SearchParameter(name, Kind.DATE, List.of(), Optional.empty());
  }

  static SearchParameter string(String name) {
    return new SearchParameter(name, Kind.STRING, List.of(), Optional.empty());
  }

  static SearchParameter reference(String name, String... targets) {
    return new SearchParameter(name, Kind.REFERENCE, List.of(targets), Optional.empty());
  }

  /** The same as one of our own, published under that id. */
  SearchParameter own(String id) {
    return new SearchParameter(
        name, kind, targets, Optional.of(Systems.BASE + "/SearchParameter/" + id));
  }
}
