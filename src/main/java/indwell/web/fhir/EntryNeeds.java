package indwell.web.fhir;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonToken;
import indwell.access.Need;
import indwell.access.Permission;
import indwell.usecase.transaction.Entry.Verb;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;

/**
 * What a change needs. A condition is a search, and so is a reference by an identifier; a PUT makes
 * what is not there yet, so it needs both permissions.
 */
final class EntryNeeds {
  private static final JsonFactory JSON = new JsonFactory();

  private EntryNeeds() {}

  /**
   * What one change needs.
   *
   * @param conditional whether it is found, or not made, by an identifier
   */
  static List<Need> of(Verb verb, String type, boolean conditional) {
    List<Need> needs = new ArrayList<>();
    needs.add(
        switch (verb) {
          case POST -> Need.of(type, Permission.CREATE);
          case PUT -> Need.of(type, Permission.CREATE, Permission.UPDATE);
          case DELETE -> Need.of(type, Permission.DELETE);
        });
    if (conditional) {
      needs.add(Need.of(type, Permission.SEARCH));
    }
    return needs;
  }

  /**
   * What an entry that changes something needs.
   *
   * @param base absolute URL of {@code /fhir}
   */
  static List<Need> of(BundleEntry entry, String base) {
    String url = relative(entry.url(), base);
    int mark = url.indexOf('?');
    String path = mark < 0 ? url : url.substring(0, mark);
    int slash = path.indexOf('/');
    boolean conditional = mark >= 0 || entry.header("ifNoneExist").isPresent();
    List<Need> needs =
        new ArrayList<>(
            of(
                Verb.valueOf(entry.method()),
                slash < 0 ? path : path.substring(0, slash),
                conditional));
    entry.resource().ifPresent(json -> needs.addAll(ofReferences(json, base)));
    return needs;
  }

  /** What the references of a resource need that are found by a search. */
  static List<Need> ofReferences(byte[] resource, String base) {
    Set<String> types = new TreeSet<>();
    try (JsonParser json = JSON.createParser(resource)) {
      for (JsonToken token = json.nextToken(); token != null; token = json.nextToken()) {
        if (token == JsonToken.VALUE_STRING && "reference".equals(json.currentName())) {
          String reference = relative(json.getText(), base);
          int mark = reference.indexOf('?');
          if (mark > 0) {
            types.add(reference.substring(0, mark));
          }
        }
      }
    } catch (IOException e) {
      throw new UncheckedIOException("The gate has read this body before", e);
    }
    return types.stream().map(type -> Need.of(type, Permission.SEARCH)).toList();
  }

  private static String relative(String url, String base) {
    String below = url.startsWith(base + "/") ? url.substring(base.length() + 1) : url;
    return below.startsWith("/") ? below.substring(1) : below;
  }
}
