package indwell.web.page;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.web.page.FormSeal.Sealed;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.Optional;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** What keeps the forms of the pages safe. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class FormSealTest {
  private static final Instant NOW = Instant.parse("2026-03-10T12:00:00Z");
  private static final FormSeal SEAL = seal("one key of thirty-two bytes, 0123");

  private static FormSeal seal(String key) {
    return new FormSeal(key.getBytes(StandardCharsets.UTF_8), () -> "fresh-0123456789");
  }

  @Test
  void a_seal_holds_for_its_browser_and_subject() {
    Sealed form = SEAL.seal("browser", "subject", NOW);

    assertThat(SEAL.holds(form, "browser", "subject", NOW)).isTrue();
    assertThat(SEAL.holds(form, "browser2", "subject", NOW)).isFalse();
    assertThat(SEAL.holds(form, "browser", "subject2", NOW)).isFalse();
  }

  @Test
  void a_service_that_was_started_anew_does_not_know_the_forms_of_before() {
    Sealed form = SEAL.seal("browser", "subject", NOW);

    assertThat(seal("another key of thirty-two bytes 01").holds(form, "browser", "subject", NOW))
        .isFalse();
  }

  @Test
  void a_seal_holds_for_twelve_hours() {
    Sealed form = SEAL.seal("browser", "subject", NOW);

    assertThat(SEAL.holds(form, "browser", "subject", NOW.plusSeconds(12 * 3600 - 1))).isTrue();
    assertThat(SEAL.holds(form, "browser", "subject", NOW.plusSeconds(12 * 3600))).isFalse();
  }

  /** What one part loses another must not gain. */
  @Test
  void parts_do_not_run_into_one_another() {
    Sealed form = SEAL.seal("ab", "c", NOW);

    assertThat(SEAL.holds(form, "a", "bc", NOW)).isFalse();
  }

  /** Source: W3C Fetch Metadata (the four values of the header), RFC 6454 (null). */
  @ParameterizedTest
  @CsvSource(
      nullValues = "none",
      value = {
        "http://localhost:8080, same-origin, true",
        "http://localhost:8080, none, true",
        "none, same-origin, true",
        "HTTP://LOCALHOST:8080, same-origin, true",
        "http://localhost:8081, same-origin, false",
        "https://localhost:8080, same-origin, false",
        "http://localhost:8080, same-site, false",
        "http://localhost:8080, cross-site, false",
        "none, 'none', false",
        "null, same-origin, false",
        "none, none, false"
      })
  void a_form_comes_from_here_when_every_word_of_the_browser_says_so(
      String origin, String site, boolean holds) {
    assertThat(
            new SameOrigin(
                    "http://localhost:8080", Optional.ofNullable(origin), Optional.ofNullable(site))
                .holds())
        .isEqualTo(holds);
  }
}
