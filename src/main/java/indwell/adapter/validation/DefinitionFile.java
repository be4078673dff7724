package indwell.adapter.validation;

import static java.nio.charset.StandardCharsets.ISO_8859_1;
import static java.nio.charset.StandardCharsets.UTF_8;

import ca.uhn.fhir.context.support.DefaultProfileValidationSupport;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.lang.ref.SoftReference;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/**
 * An XML Bundle of base definitions, cut into its resources without being parsed.
 *
 * <p>Parsing all of R4 costs seconds and a lot of heap, and a validator reaches a few dozen of its
 * 3,000 definitions. The bundles come from a pinned library, so their layout is known: one {@code
 * resource} element a definition, whose first {@code url} element is the canonical URL. A test
 * compares the outcome with a full parse.
 *
 * <p>The text is held softly and read again when it is needed after it was dropped. It is held as
 * ISO 8859-1, one byte a character, which is searched much faster than an array.
 */
final class DefinitionFile {
  private static final String ROOT = "/org/hl7/fhir/r4/model/";
  private static final String OPEN = "<resource>";
  private static final String CLOSE = "</resource>";

  private final String name;
  private @Nullable SoftReference<String> held;

  DefinitionFile(String name) {
    this.name = name;
  }

  private synchronized String latin() {
    String text = held == null ? null : held.get();
    if (text == null) {
      text = new String(read(), ISO_8859_1);
      held = new SoftReference<>(text);
    }
    return text;
  }

  private byte[] read() {
    try (InputStream in = DefaultProfileValidationSupport.class.getResourceAsStream(ROOT + name)) {
      if (in == null) {
        throw new IllegalStateException("The base definitions lack " + name + ".");
      }
      return in.readAllBytes();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** The definitions of those types, in the order of the file. */
  List<Slice> scan(Set<String> types) {
    List<Slice> found = new ArrayList<>();
    String text = latin();
    int at = text.indexOf(OPEN);
    while (at >= 0) {
      int start = text.indexOf('<', at + OPEN.length());
      int end = text.indexOf(CLOSE, start);
      String type = elementName(text, start + 1);
      if (types.contains(type)) {
        found.add(new Slice(this, type, first("url", start, end), start, end));
      }
      at = text.indexOf(OPEN, end);
    }
    return found;
  }

  private String first(String element, int start, int end) {
    String text = latin();
    String mark = "<" + element + " value=\"";
    int at = text.indexOf(mark, start);
    if (at < 0 || at >= end) {
      return "";
    }
    int from = at + mark.length();
    return text.substring(from, text.indexOf('"', from));
  }

  /** The name that it was made with. */
  String name() {
    return name;
  }

  private static String elementName(String text, int start) {
    int end = start;
    while (Character.isLetter(text.charAt(end))) {
      end++;
    }
    return text.substring(start, end);
  }

  /**
   * Where one definition stands.
   *
   * @param type of resource
   * @param url its canonical URL
   * @param end exclusive
   */
  record Slice(DefinitionFile file, String type, String url, int start, int end) {

    /** The XML with the FHIR namespace declared, which the bundle may declare at its root only. */
    String xml() {
      byte[] bytes = file.latin().substring(start, end).getBytes(ISO_8859_1);
      String text = new String(bytes, UTF_8);
      String bare = "<" + type + ">";
      return text.startsWith(bare)
          ? "<" + type + " xmlns=\"http://hl7.org/fhir\">" + text.substring(bare.length())
          : text;
    }

    /** The value of the first element of that name, empty when there is none. */
    String first(String element) {
      return file.first(element, start, end);
    }
  }
}
