package indwell.fhir.map;

import static org.assertj.core.api.Assertions.assertThatThrownBy;

import ca.uhn.fhir.parser.DataFormatException;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** What is no resource is told apart by one exception, whatever the parser stumbles over. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class FhirJsonTest {
  @ParameterizedTest
  @ValueSource(
      strings = {
        "{\"resourceType\":\"Patient\",\"extension\":7}",
        "{\"resourceType\":\"Patient\",\"extension\":[7]}",
        "{\"resourceType\":\"Patient\",\"extension\":[null]}",
        "{\"resourceType\":\"Patient\",\"extension\":[\"x\"]}",
        "{\"resourceType\":\"Patient\",\"extension\":[[]]}",
        "{\"resourceType\":\"Patient\",\"identifier\":\"x\"}",
        "{\"resourceType\":\"Patient\",\"whiskers\":1}",
        "{\"resourceType\":\"Whisker\"}",
        "{",
        "[]",
        "",
      })
  void a_text_that_is_no_resource_is_a_format_fault(String json) {
    assertThatThrownBy(() -> FhirJson.parse(json)).isInstanceOf(DataFormatException.class);
  }
}
