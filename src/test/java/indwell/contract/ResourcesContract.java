package indwell.contract;

import static indwell.contract.Samples.NOON;
import static indwell.contract.Samples.identified;
import static indwell.contract.Samples.resource;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import indwell.port.ResourceKey;
import indwell.port.StoredResource;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;

/** What it keeps of resources. */
abstract class ResourcesContract extends StoreChecks {
  private static final ResourceKey DEVICE = new ResourceKey("Device", "d23");

  @Test
  void an_unknown_resource_has_nothing() {
    assertThat(now().resource(DEVICE)).isEmpty();
    assertThat(now().version(DEVICE, 1)).isEmpty();
    assertThat(now().history(DEVICE)).isEmpty();
    assertThat(now().resources(List.of())).isEmpty();
  }

  @Test
  void a_resource_comes_back_as_it_was_kept() {
    StoredResource kept =
        new StoredResource(
            DEVICE,
            1,
            NOON,
            "",
            List.of("https://indwell.example/fhir/catheter|K-\u00dc \"1\" \\ \ud83d\ude80", "|"),
            "{\"d\":\"line\\nfeed \u00a0 \ud83e\ude7a\"}");
    put(kept);
    assertThat(now().resource(DEVICE)).contains(kept);
    assertThat(now().version(DEVICE, 1)).contains(kept);
  }

  @Test
  void texts_with_any_characters_but_NUL_come_back() {
    String odd = "a\nb\\n\\\\c\r\t\u0001\u007f'\"%_;{}\u00e9\u20ac\uffff\ud83d\udc69\u200d\u2695";
    StoredResource kept =
        new StoredResource(DEVICE, 1, NOON, odd, List.of("s|" + odd, "", "x|\n"), odd);
    put(kept);
    assertThat(now().resource(DEVICE)).contains(kept);
    assertThat(now().search(identified("Device", "s|" + odd))).containsExactly(kept);
  }

  @Test
  void the_newest_of_many_are_read_at_once() {
    put(resource("Device", "d23", 1), resource("Device", "d24", 1));
    put(resource("Device", "d23", 2));
    assertThat(
            now()
                .resources(
                    List.of(
                        DEVICE,
                        DEVICE,
                        new ResourceKey("Procedure", "d24"),
                        new ResourceKey("Device", "d24"))))
        .isEqualTo(
            Map.of(
                DEVICE,
                resource("Device", "d23", 2),
                new ResourceKey("Device", "d24"),
                resource("Device", "d24", 1)));
  }

  @Test
  void history_is_newest_first_and_every_version_can_be_read() {
    put(resource("Device", "d23", 1));
    put(resource("Device", "d23", 2), resource("Device", "d23", 3));
    assertThat(now().history(DEVICE))
        .containsExactly(
            resource("Device", "d23", 3),
            resource("Device", "d23", 2),
            resource("Device", "d23", 1));
    assertThat(now().version(DEVICE, 2)).contains(resource("Device", "d23", 2));
    assertThat(now().version(DEVICE, 4)).isEmpty();
  }

  @Test
  void a_version_must_follow_the_newest_one() {
    assertThatThrownBy(() -> put(resource("Device", "d23", 2)))
        .isInstanceOf(IllegalStateException.class)
        .hasMessage("Version 2 of a Device does not follow its newest version.");
    put(resource("Device", "d23", 1));
    for (int wrong : new int[] {1, 3}) {
      assertThatThrownBy(() -> put(resource("Device", "d23", wrong)))
          .isInstanceOf(IllegalStateException.class);
    }
    assertThat(now().history(DEVICE)).containsExactly(resource("Device", "d23", 1));
  }
}
