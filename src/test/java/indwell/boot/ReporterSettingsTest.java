package indwell.boot;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import indwell.domain.event.BusinessId;
import indwell.fhir.map.Reporter;
import io.quarkus.runtime.configuration.DurationConverter;
import io.smallrye.config.PropertiesConfigSource;
import io.smallrye.config.SmallRyeConfigBuilder;
import java.time.Duration;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** What is configured of the facility (docs/configuration.md). */
@DisplayNameGeneration(ReplaceUnderscores.class)
class ReporterSettingsTest {
  private static final BusinessId F1 = new BusinessId("https://hospital.example/facility", "F 1");

  private static Optional<Reporter> reporter(String... settings) {
    Map<String, String> properties = new HashMap<>();
    for (String setting : settings) {
      String[] parts = setting.split("=", 2);
      properties.put("indwell." + parts[0], parts[1]);
    }
    return ReporterSettings.of(
        new SmallRyeConfigBuilder()
            .withMapping(IndwellConfig.class)
            .withConverter(Duration.class, 200, new DurationConverter())
            .withSources(new PropertiesConfigSource(properties, "test", 100))
            .build()
            .getConfigMapping(IndwellConfig.class));
  }

  @Test
  void nobody_reports_where_nothing_is_said() {
    assertThat(reporter()).isEmpty();
  }

  @Test
  void a_name_or_an_identifier_is_an_organization_within_the_report() {
    assertThat(reporter("facility-name=St. Example"))
        .contains(
            new Reporter(Optional.of("St. Example"), Optional.empty(), new Reporter.Contained()));
    assertThat(reporter("facility-identifier=https://hospital.example/facility|F 1"))
        .contains(new Reporter(Optional.empty(), Optional.of(F1), new Reporter.Contained()));
  }

  @Test
  void an_identifier_alone_is_a_logical_reference_where_that_is_asked_for() {
    assertThat(
            reporter(
                "facility-identifier=https://hospital.example/facility|F 1",
                "facility-reporter=logical"))
        .contains(new Reporter(Optional.empty(), Optional.of(F1), new Reporter.Logical()));
  }

  @Test
  void an_address_is_a_reference_where_that_is_asked_for() {
    String url = "https://ehr.example/fhir/Organization/7";
    assertThat(reporter("facility-reporter=reference", "facility-reference=" + url))
        .contains(new Reporter(Optional.empty(), Optional.empty(), new Reporter.Literal(url)));
  }

  @ParameterizedTest
  @CsvSource({
    "facility-reporter=logical, indwell.facility-identifier",
    "facility-reporter=reference, indwell.facility-reference",
    "facility-identifier=F-1, F-1",
    "facility-identifier=hospital|F-1, hospital|F-1",
    "facility-identifier=https://hospital.example|, https://hospital.example|"
  })
  void what_is_missing_or_cannot_be_read_is_named(String setting, String named) {
    assertThatThrownBy(() -> reporter(setting))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining(named);
  }

  @Test
  void a_reference_that_leads_to_no_organization_is_named() {
    assertThatThrownBy(
            () ->
                reporter(
                    "facility-reporter=reference",
                    "facility-reference=https://ehr.example/fhir/Location/7"))
        .hasMessageContaining("https://ehr.example/fhir/Location/7")
        .hasMessageContaining("expected the address of an Organization");
  }
}
