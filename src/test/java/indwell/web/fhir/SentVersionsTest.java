package indwell.web.fhir;

import static indwell.web.fhir.SentDays.FIVE_AND_TWO;
import static indwell.web.fhir.SentDays.remarks;
import static indwell.web.fhir.SentDays.sums;
import static indwell.web.fhir.SentDays.with;
import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.List;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** Of what was sent twice, or tells the same as something else, what is counted. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class SentVersionsTest {
  private static SentDays sent;

  @BeforeAll
  static void start() throws Exception {
    sent = new SentDays();
  }

  @AfterAll
  static void stop() throws Exception {
    sent.close();
  }

  @Test
  void of_one_resource_the_latest_version_counts_in_whatever_order() throws Exception {
    String early =
        EhrResources.removal("8", "Patient/1", "Device/5", "2026-03-03T10:00:00Z")
            .replace("\"identifier\"", "\"meta\":{\"versionId\":\"1\"},\"identifier\"");
    String late =
        EhrResources.removal("8", "Patient/1", "Device/5", "2026-03-04T10:00:00Z")
            .replace("\"identifier\"", "\"meta\":{\"versionId\":\"10\"},\"identifier\"");
    List<String> rest = EhrResources.story().subList(0, 4);

    assertThat(sums(sent.count(with(rest, early, late)))).isEqualTo(FIVE_AND_TWO);
    assertThat(sums(sent.count(with(rest, late, early, early)))).isEqualTo(FIVE_AND_TWO);
    String withdrawn = late.replace("\"10\"", "\"11\"").replace("completed", "entered-in-error");
    assertThat(sums(sent.count(with(rest, withdrawn, late)))).isEqualTo("5 4");
  }

  @Test
  void without_a_version_the_time_of_writing_decides() throws Exception {
    String early =
        EhrResources.removal("8", "Patient/1", "Device/5", "2026-03-03T10:00:00Z")
            .replace(
                "\"identifier\"",
                "\"meta\":{\"lastUpdated\":\"2026-03-05T10:00:00Z\"},\"identifier\"");
    String late =
        EhrResources.removal("8", "Patient/1", "Device/5", "2026-03-04T10:00:00Z")
            .replace(
                "\"identifier\"",
                "\"meta\":{\"lastUpdated\":\"2026-03-05T11:00:00Z\"},\"identifier\"");

    assertThat(sums(sent.count(with(EhrResources.story().subList(0, 4), late, early))))
        .isEqualTo(FIVE_AND_TWO);
  }

  @Test
  void the_same_resource_twice_counts_once_and_two_that_differ_are_refused() throws Exception {
    List<String> story = EhrResources.story();
    List<String> twice = with(story, story.toArray(String[]::new));
    String other = EhrResources.removal("8", "Patient/1", "Device/5", "2026-03-03T10:00:00Z");

    assertThat(sums(sent.count(twice))).isEqualTo(FIVE_AND_TWO);
    assertThat(sent.refused(with(story, other)))
        .singleElement()
        .asString()
        .startsWith(
            "IND-0343 Procedure/8 (line 5) cannot be counted: The resource stands at line 6");
  }

  @Test
  void two_resources_of_one_event_that_differ_are_refused() throws Exception {
    String same = EhrResources.removal("8", "Patient/1", "Device/5", "2026-03-04T10:00:00Z");
    String other = EhrResources.removal("8", "Patient/1", "Device/5", "2026-03-03T10:00:00Z");

    assertThat(
            sums(
                sent.count(
                    with(EhrResources.story(), same.replace("\"id\":\"8\"", "\"id\":\"18\"")))))
        .isEqualTo(FIVE_AND_TWO);
    assertThat(
            sent.refused(
                with(EhrResources.story(), other.replace("\"id\":\"8\"", "\"id\":\"18\""))))
        .singleElement()
        .asString()
        .startsWith("IND-0262 Procedure/18 (line 6) cannot be counted: Another resource tells");
  }

  @Test
  void a_use_that_agrees_with_its_procedures_is_silent_and_one_that_does_not_is_told()
      throws Exception {
    String agrees =
        EhrResources.use(
            "3",
            "Patient/1",
            "Procedure/7",
            "Device/5",
            "2026-03-02T10:00:00Z",
            "2026-03-04T10:00:00Z");

    assertThat(remarks(sent.count(with(EhrResources.story(), agrees)))).isEmpty();
    JsonNode bundle =
        sent.count(with(EhrResources.story(), agrees.replace("2026-03-04", "2026-03-05")));
    assertThat(sums(bundle)).isEqualTo(FIVE_AND_TWO);
    assertThat(remarks(bundle))
        .containsExactly(
            "IND-0344 DeviceUseStatement/3 (line 6) says otherwise than the Procedures that were"
                + " sent, which put the catheter in place from 2026-03-02T11:00:00+01:00 to"
                + " 2026-03-04T11:00:00+01:00; the Procedures were counted.");
  }

  @Test
  void a_use_whose_procedure_was_not_sent_is_refused() throws Exception {
    String use =
        EhrResources.use("3", "Patient/1", "Procedure/70", "Device/5", "2026-03-02T10:00:00Z", "");

    assertThat(sent.refused(with(EhrResources.story(), use)))
        .singleElement()
        .asString()
        .startsWith("IND-0258 DeviceUseStatement/3 (line 6) cannot be counted");
  }
}
