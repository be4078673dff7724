package indwell.fhir.term;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import indwell.domain.event.EventKey;
import org.hl7.fhir.r4.model.Identifier;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

@DisplayNameGeneration(ReplaceUnderscores.class)
class EventIdentifierTest {
  private static final EventKey KEY = new EventKey("bed.side-1", "a:b/17");

  /** Source: contract, section 3. */
  @Test
  void the_value_is_source_colon_event_id_with_a_name_behind_a_hash() {
    Identifier first = EventIdentifier.of(KEY);
    Identifier further = EventIdentifier.of(KEY, "rate");

    assertThat(first.getSystem()).isEqualTo("https://indwell.example/fhir/event");
    assertThat(first.getValue()).isEqualTo("bed.side-1:a:b/17");
    assertThat(further.getValue()).isEqualTo("bed.side-1:a:b/17#rate");
  }

  @Test
  void the_event_can_be_read_back_from_either() {
    assertThat(EventIdentifier.read(EventIdentifier.of(KEY))).isEqualTo(KEY);
    assertThat(EventIdentifier.read(EventIdentifier.of(KEY, "rate"))).isEqualTo(KEY);
  }

  @Test
  void another_identifier_is_not_read_as_one() {
    Identifier other = new Identifier().setSystem("urn:other").setValue("his:17");

    assertThatThrownBy(() -> EventIdentifier.read(other))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessage("Identifier urn:other|his:17 is not that of an event.");
  }
}
