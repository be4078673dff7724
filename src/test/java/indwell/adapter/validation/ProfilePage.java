package indwell.adapter.validation;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Collectors;
import org.hl7.fhir.r5.model.CodeableConcept;
import org.hl7.fhir.r5.model.DataType;
import org.hl7.fhir.r5.model.ElementDefinition;
import org.hl7.fhir.r5.model.ElementDefinition.TypeRefComponent;
import org.hl7.fhir.r5.model.PrimitiveType;
import org.hl7.fhir.r5.model.StructureDefinition;
import org.hl7.fhir.r5.model.StructureDefinition.StructureDefinitionKind;

/** The page of one profile or extension, made of its file, its completed form and its cases. */
final class ProfilePage {
  private static final String FILES = "../../fhir-profiles/";
  private static final String OWN = "https://indwell.example/fhir/";
  private static final String R4 = "http://hl7.org/fhir/R4/";

  private final Path file;
  private final StructureDefinition profile;
  private final StringBuilder page = new StringBuilder();

  ProfilePage(Path file) {
    this.file = file;
    this.profile = Cases.definition(Cases.json(file).path("url").asText());
  }

  String fileName() {
    return profile.getIdPart() + ".md";
  }

  boolean isExtension() {
    return profile.getKind() != StructureDefinitionKind.RESOURCE;
  }

  StructureDefinition profile() {
    return profile;
  }

  String render() {
    head();
    elements();
    bindings();
    invariants();
    example();
    refused();
    return page.toString();
  }

  private void line(String text) {
    page.append(text).append('\n');
  }

  private void head() {
    line("# " + profile.getTitle());
    line("");
    line(
        "<!-- Made of "
            + Cases.name(file)
            + " by ProfilePagesTest; change that file, not this page. -->");
    line("");
    line(profile.getDescription());
    line("");
    line("| | |");
    line("|---|---|");
    line("| canonical | `" + profile.getUrl() + "` |");
    line("| version | " + profile.getVersion() + " |");
    line("| " + (isExtension() ? "extends" : "constrains") + " | " + constrained() + " |");
    line("| file | [" + Cases.name(file) + "](" + FILES + Cases.name(file) + ") |");
    line("| licence | " + cell(profile.getCopyright()) + " |");
    line("");
    line("All profiles: [README.md](README.md).");
    line("");
  }

  private String constrained() {
    return isExtension()
        ? profile.getContext().stream()
            .map(one -> "`" + one.getExpression() + "`")
            .collect(Collectors.joining(", "))
        : "["
            + profile.getType()
            + "]("
            + R4
            + profile.getType().toLowerCase(Locale.ROOT)
            + ".html)";
  }

  private List<ElementDefinition> constrainedElements() {
    List<ElementDefinition> elements = new ArrayList<>();
    for (JsonNode one : Cases.json(file).at("/differential/element")) {
      String id = one.path("id").asText();
      if (id.contains(".")) {
        elements.add(
            profile.getSnapshot().getElement().stream()
                .filter(element -> element.getId().equals(id))
                .findFirst()
                .orElseThrow(() -> new AssertionError(id)));
      }
    }
    return elements;
  }

  private void elements() {
    line("## Elements");
    line("");
    line("Those that it constrains; everything else is as R4 has it. MS: must support.");
    line("");
    line("| element | card. | type | value | MS | description |");
    line("|---|---|---|---|---|---|");
    for (ElementDefinition one : constrainedElements()) {
      if (!isExtension() || saysSomething(one)) {
        ElementDefinition typed = isExtension() ? valueOf(one) : one;
        line(
            "| `%s` | %d..%s | %s | %s | %s | %s |"
                .formatted(
                    one.getId(),
                    one.getMin(),
                    one.getMax(),
                    types(typed),
                    value(typed),
                    one.getMustSupport() ? "MS" : "",
                    cell(one.getShort())));
      }
    }
    line("");
  }

  /**
   * Of an extension, its parts and what is special in their values; not how extensions are made.
   */
  private static boolean saysSomething(ElementDefinition one) {
    String id = one.getId();
    boolean ofPart = id.contains(":") && (id.endsWith(".url") || id.endsWith(".value[x]"));
    return !"0".equals(one.getMax())
        && !ofPart
        && !id.equals("Extension.url")
        && !id.equals("Extension.extension");
  }

  /** Of a part of an extension, the element that holds its value. */
  private ElementDefinition valueOf(ElementDefinition part) {
    return profile.getSnapshot().getElement().stream()
        .filter(one -> one.getId().equals(part.getId() + ".value[x]"))
        .findFirst()
        .orElse(part);
  }

  private static String types(ElementDefinition element) {
    return "0".equals(element.getMax())
        ? ""
        : element.getType().stream().map(ProfilePage::type).collect(Collectors.joining(" or "));
  }

  private static String type(TypeRefComponent type) {
    List<String> targets =
        type.getTargetProfile().stream().map(one -> tail(one.getValue())).toList();
    boolean anything = targets.isEmpty() || targets.contains("Resource");
    return type.getWorkingCode() + (anything ? "" : " to " + String.join(" or ", targets));
  }

  private static String value(ElementDefinition element) {
    if (element.hasFixed()) {
      return "fixed: " + shown(element.getFixed());
    }
    if (element.hasPattern()) {
      return "with: " + shown(element.getPattern());
    }
    return element.hasBinding() && element.getBinding().hasValueSet()
        ? element.getBinding().getStrength().toCode()
            + ": "
            + canonical(element.getBinding().getValueSet())
        : "";
  }

  private static String shown(DataType value) {
    if (value instanceof PrimitiveType<?> primitive) {
      return "`" + primitive.asStringValue() + "`";
    }
    return ((CodeableConcept) value)
        .getCoding().stream()
            .map(one -> "`" + one.getSystem() + "#" + one.getCode() + "`")
            .collect(Collectors.joining(" and "));
  }

  private static String canonical(String url) {
    String plain = url.replaceFirst("\\|.*", "");
    String name = plain.replaceFirst(".*/", "");
    return plain.startsWith(OWN)
        ? "[" + name + "](" + FILES + plain.substring(OWN.length()).replace('/', '-') + ".json)"
        : "[" + name + "](" + plain + ")";
  }

  private void bindings() {
    Codes codes = new Codes(Cases.COMPLETE);
    List<String> rows = new ArrayList<>();
    for (ElementDefinition one : constrainedElements()) {
      boolean bound = one.hasBinding() && one.getBinding().hasValueSet();
      if (bound && one.getBinding().getValueSet().startsWith(OWN)) {
        String set = one.getBinding().getValueSet();
        rows.add(
            "| `%s` | %s | %s | %s |"
                .formatted(
                    one.getId(),
                    one.getBinding().getStrength().toCode(),
                    canonical(set),
                    codes.ofValueSet(set).map(ProfilePage::cell).orElse("many")));
      }
    }
    table("Bindings", "| element | strength | value set | codes |", rows);
  }

  private void invariants() {
    List<String> rows = new ArrayList<>();
    for (JsonNode element : Cases.json(file).at("/differential/element")) {
      for (JsonNode rule : element.path("constraint")) {
        rows.add(
            "| %s | `%s` | %s | %s | `%s` |"
                .formatted(
                    rule.path("key").asText(),
                    element.path("id").asText(),
                    rule.path("severity").asText(),
                    cell(rule.path("human").asText()),
                    cell(rule.path("expression").asText())));
      }
    }
    table("Invariants", "| key | on | severity | rule | FHIRPath |", rows);
  }

  private void table(String title, String head, List<String> rows) {
    if (rows.isEmpty()) {
      return;
    }
    line("## " + title);
    line("");
    line(head);
    line(head.replaceAll("[^|]+", "---"));
    rows.forEach(this::line);
    line("");
  }

  private void example() {
    line("## Example");
    line("");
    Path own = Cases.VALID.resolve(profile.getIdPart() + ".json");
    if (Files.exists(own)) {
      line("[" + Cases.name(own) + "](" + FILES + "cases/valid/" + Cases.name(own) + "):");
      line("");
      line("```json");
      line(read(own).strip());
      line("```");
    } else {
      Path holder = holder().orElseThrow(() -> new AssertionError(profile.getIdPart()));
      line(
          "Out of ["
              + Cases.name(holder)
              + "]("
              + FILES
              + "cases/valid/"
              + Cases.name(holder)
              + "):");
      line("");
      line("```json");
      line(Cases.pretty(used(Cases.json(holder)).orElseThrow()));
      line("```");
    }
    line("");
  }

  /** The first valid case that uses the extension. */
  private Optional<Path> holder() {
    return Cases.files(Cases.VALID, ".json").stream()
        .filter(one -> used(Cases.json(one)).isPresent())
        .findFirst();
  }

  private Optional<JsonNode> used(JsonNode node) {
    if (node.path("url").asText().equals(profile.getUrl())) {
      return Optional.of(node);
    }
    for (JsonNode child : node) {
      Optional<JsonNode> found = used(child);
      if (found.isPresent()) {
        return found;
      }
    }
    return Optional.empty();
  }

  /** Cases that claim the profile; of an extension, those whose first error is of it. */
  private void refused() {
    List<String> rows = new ArrayList<>();
    for (Path one : Cases.files(Cases.INVALID, ".txt")) {
      String said = read(one).strip();
      JsonNode resource = Cases.json(Path.of(one.toString().replace(".txt", ".json")));
      boolean about =
          isExtension()
              ? said.endsWith(" of " + profile.getUrl() + "|" + profile.getVersion() + ")")
              : resource.at("/meta/profile/0").asText().equals(profile.getUrl());
      if (about) {
        String name = Cases.name(one).replace(".txt", ".json");
        String[] parts = said.split(" \\| ", 3);
        String sentence = parts[2].substring(0, parts[2].lastIndexOf(" ("));
        rows.add(
            "| [%s](%scases/invalid/%s) | `%s` | %s |"
                .formatted(name, FILES, name, parts[1], cell(sentence)));
      }
    }
    table("Refused", "| case | at | what is said of it |", rows);
  }

  private static String read(Path file) {
    try {
      return Files.readString(file);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private static String tail(String url) {
    return url.replaceFirst(".*/", "");
  }

  static String cell(String text) {
    return text == null ? "" : text.replace("|", "\\|").replaceAll("\\s+", " ");
  }
}
