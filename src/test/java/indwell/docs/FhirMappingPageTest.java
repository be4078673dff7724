package indwell.docs;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.event.CareItem;
import indwell.domain.event.EventType;
import indwell.fhir.term.Profiles;
import java.lang.reflect.Field;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** docs/fhir-mapping.md names every event, every profile and every name behind a hash. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class FhirMappingPageTest {

  @Test
  void the_page_names_every_type_of_event() throws Exception {
    assertThat(Arrays.stream(EventType.values()).map(type -> "`" + type.code() + "`"))
        .allMatch(page()::contains);
  }

  @Test
  void the_page_names_every_profile() throws Exception {
    List<String> missing = new ArrayList<>();
    for (Field field : Profiles.class.getFields()) {
      String profile = ((String) field.get(null)).replaceFirst(".*/", "");
      if (!page().contains("`" + profile + "`")) {
        missing.add(profile);
      }
    }

    assertThat(missing).isEmpty();
  }

  @Test
  void the_page_names_every_item_of_a_care_check() throws Exception {
    assertThat(Arrays.stream(CareItem.values()).map(item -> "`#" + item.code() + "`"))
        .allMatch(page()::contains);
  }

  private static String page() throws Exception {
    return Files.readString(Path.of("docs/fhir-mapping.md"));
  }
}
