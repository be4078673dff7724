package indwell.fhir.term;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

@DisplayNameGeneration(ReplaceUnderscores.class)
class IdsTest {

  /**
   * Worked out outside Java, with Python's hashlib and base64: {@code
   * b32encode(sha256(b"\0\0\0\x07Patient\0\0\0\x05urn:a\0\0\0\x03P-1").digest())[:26].lower()}.
   */
  @Test
  void an_id_is_base32_of_the_hash_over_length_prefixed_parts() {
    assertThat(Ids.derive("Patient", "urn:a", "P-1")).isEqualTo("hpc7kwvxy7rovpwalvcmjkfwwe");
    assertThat(Ids.derive("Device", "ü", "")).isEqualTo("nb25vog6jsoi77k5ppfdwx5jui");
  }

  @Test
  void where_one_part_ends_and_the_next_begins_matters() {
    assertThat(Ids.derive("Procedure", "ab", "c")).isNotEqualTo(Ids.derive("Procedure", "a", "bc"));
    assertThat(Ids.derive("Procedure", "a")).isNotEqualTo(Ids.derive("Procedure", "a", ""));
    assertThat(Ids.derive("Procedure", "a")).isNotEqualTo(Ids.derive("Observation", "a"));
  }
}
