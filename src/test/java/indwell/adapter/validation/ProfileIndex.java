package indwell.adapter.validation;

import com.fasterxml.jackson.databind.JsonNode;
import java.nio.file.Path;
import java.util.List;

/** The page that lists all artifacts of {@code fhir-profiles}. */
final class ProfileIndex {
  private final List<ProfilePage> pages;
  private final StringBuilder index = new StringBuilder();

  ProfileIndex(List<ProfilePage> pages) {
    this.pages = pages;
  }

  String render() {
    line("# Profiles");
    line("");
    line(
        "<!-- Made of fhir-profiles by ProfilePagesTest; change the files there, not this page. -->");
    line("");
    line(
        "Every artifact of [fhir-profiles](../../fhir-profiles/README.md). They come as one FHIR package as well:");
    line(
        "[package.md](package.md). Which event makes which resource: [fhir-mapping.md](../fhir-mapping.md).");
    line("");
    pagesOf("Profiles on resources", "| profile | constrains | what it is about |", false);
    pagesOf("Extensions", "| extension | on | what it is about |", true);
    files("Value sets", "ValueSet");
    files("Code systems", "CodeSystem");
    files("Operations", "OperationDefinition");
    files("Search parameters", "SearchParameter");
    files("Measure", "Measure");
    files("Capability statement", "CapabilityStatement");
    return index.toString().stripTrailing() + "\n";
  }

  private void line(String text) {
    index.append(text).append('\n');
  }

  private void pagesOf(String title, String head, boolean extensions) {
    line("## " + title);
    line("");
    line(head);
    line("|---|---|---|");
    for (ProfilePage page : pages) {
      if (page.isExtension() == extensions) {
        String on =
            extensions
                ? String.join(
                    ", ",
                    page.profile().getContext().stream().map(one -> one.getExpression()).toList())
                : page.profile().getType();
        line(
            "| [%s](%s) | %s | %s |"
                .formatted(
                    page.profile().getIdPart(),
                    page.fileName(),
                    on,
                    ProfilePage.cell(page.profile().getDescription())));
      }
    }
    line("");
  }

  private void files(String title, String type) {
    line("## " + title);
    line("");
    line("| file | what it is |");
    line("|---|---|");
    for (Path file : Cases.conformance()) {
      JsonNode one = Cases.json(file);
      if (one.path("resourceType").asText().equals(type)) {
        line(
            "| [%s](../../fhir-profiles/%s) | %s |"
                .formatted(
                    one.path("id").asText(),
                    Cases.name(file),
                    ProfilePage.cell(one.path("description").asText())));
      }
    }
    line("");
  }
}
