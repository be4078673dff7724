package indwell.docs;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.core.util.DefaultIndenter;
import com.fasterxml.jackson.core.util.DefaultPrettyPrinter;
import com.fasterxml.jackson.core.util.Separators;
import com.fasterxml.jackson.core.util.Separators.Spacing;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.UncheckedIOException;

/** JSON as the files of {@code fhir-profiles} are written: two spaces, one member a line. */
public final class PrettyJson {
  private PrettyJson() {}

  /** Without a line end behind it. */
  public static String of(JsonNode json) {
    DefaultIndenter twoSpaces = new DefaultIndenter("  ", "\n");
    DefaultPrettyPrinter printer =
        new DefaultPrettyPrinter(
            Separators.createDefaultInstance().withObjectFieldValueSpacing(Spacing.AFTER));
    printer.indentObjectsWith(twoSpaces);
    printer.indentArraysWith(twoSpaces);
    try {
      return new ObjectMapper().writer(printer).writeValueAsString(json);
    } catch (JsonProcessingException e) {
      throw new UncheckedIOException(e);
    }
  }
}
