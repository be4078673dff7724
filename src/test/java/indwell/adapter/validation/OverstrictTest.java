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

/** Any absolute URI may name the system of an identifier; nothing else may. */
@DisplayNameGeneration(DisplayNameGenerator.ReplaceUnderscores.class)
class OverstrictTest {
  private static final ProfileValidator VALIDATOR = SharedValidator.WARM;

  /** Source: RFC 3986 section 1.1.2 (examples); FHIR R4 data type oid. */
  @ParameterizedTest
  @ValueSource(
      strings = {
        "ftp://ftp.is.co.za/rfc/rfc1808.txt",
        "ldap://[2001:db8::7]/c=GB?objectClass?one",
        "mailto:John.Doe@example.com",
        "news:comp.infosystems.www.servers.unix",
        "tel:+1-816-555-1212",
        "HTTP://hospital.example/p",
        "urn:oid:1.2.3",
      })
  void an_absolute_uri_is_no_error(String system) {
    assertThat(errors(system)).isEmpty();
  }

  @ParameterizedTest
  @ValueSource(strings = {"hospital", "/p", "urn:oid:1.02.3", "urn:uuid:1"})
  void what_is_no_absolute_uri_is_one(String system) {
    assertThat(errors(system)).isNotEmpty();
  }

  private static List<Finding> errors(String system) {
    String patient =
        "{\"resourceType\":\"Patient\",\"identifier\":[{\"system\":\""
            + system
            + "\",\"value\":\"v\"}]}";
    return VALIDATOR.validate(patient.getBytes(StandardCharsets.UTF_8)).stream()
        .filter(Finding::isError)
        .toList();
  }
}
