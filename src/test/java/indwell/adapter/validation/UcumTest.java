package indwell.adapter.validation;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.contract.SharedValidator;
import indwell.port.ProfileValidator;
import indwell.port.ProfileValidator.Finding;
import java.nio.charset.StandardCharsets;
import java.util.List;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Check value UCUM-4: a prefix on [Ch] is no unit. Source: UCUM 2.2, where [Ch] is not metric. */
@DisplayNameGeneration(DisplayNameGenerator.ReplaceUnderscores.class)
class UcumTest {
  private static final ProfileValidator VALIDATOR = SharedValidator.WARM;

  @ParameterizedTest
  @ValueSource(strings = {"[Ch]", "mL", "mL/kg/h", "kg"})
  void a_unit_of_ucum_is_no_error(String code) {
    assertThat(errors(code)).isEmpty();
  }

  @ParameterizedTest
  @ValueSource(strings = {"k[Ch]", "m[Ch]", "Fr", "[Fr]", "cc"})
  void a_prefix_on_Ch_and_what_circulates_instead_of_units_is_one(String code) {
    assertThat(errors(code)).isNotEmpty();
  }

  private static List<Finding> errors(String code) {
    String observation =
        """
        {"resourceType":"Observation","status":"final","code":{"text":"size"},
         "valueQuantity":{"value":16,"unit":"u","system":"http://unitsofmeasure.org","code":"%s"}}"""
            .formatted(code);
    return VALIDATOR.validate(observation.getBytes(StandardCharsets.UTF_8)).stream()
        .filter(Finding::isError)
        .toList();
  }
}
