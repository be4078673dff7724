package indwell.adapter.validation;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatCode;

import indwell.port.ProfileValidator.Finding;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.Callable;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import org.hl7.fhir.utilities.filesystem.ManagedFileAccess;
import org.hl7.fhir.utilities.filesystem.ManagedFileAccess.FileAccessPolicy;
import org.hl7.fhir.utilities.http.ManagedWebAccess;
import org.hl7.fhir.utilities.http.ManagedWebAccess.WebAccessPolicy;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

@DisplayNameGeneration(ReplaceUnderscores.class)
class HapiProfileValidatorTest {
  private static final String PATIENT =
      "https://indwell.example/fhir/StructureDefinition/catheter-patient";

  private static List<Finding> validate(String json, String... profiles) {
    return Cases.VALIDATOR.validate(json.getBytes(UTF_8), List.of(profiles));
  }

  @Test
  void the_validator_may_use_neither_network_nor_disk() {
    assertThat(Cases.VALIDATOR).isNotNull();
    assertThat(ManagedWebAccess.getAccessPolicy()).isEqualTo(WebAccessPolicy.PROHIBITED);
    assertThat(ManagedFileAccess.getAccessPolicy()).isEqualTo(FileAccessPolicy.PROHIBITED);
  }

  /**
   * Seen here: the library divides such a reference at its slashes and takes the second to last.
   */
  @Test
  void what_the_library_fails_on_is_invalid_and_no_fault_of_ours() {
    String json =
        """
        {"resourceType": "Observation", "status": "final", "code": {"text": "x"},
         "subject": {"reference": "/"}}
        """;
    assertThat(validate(json))
        .singleElement()
        .satisfies(
            finding -> {
              assertThat(finding.isError()).isTrue();
              assertThat(finding.message()).contains("ArrayIndexOutOfBoundsException");
            });
    assertThat(validate(json.replace("\"/\"", "\"Patient/x\""))).noneMatch(Finding::isError);
  }

  @Test
  void a_resource_of_a_type_without_a_profile_of_ours_is_validated_by_R4() {
    String json =
        """
        {"resourceType": "Medication", "status": "brewing", "batch": {"expirationDate": "soon"}}
        """;
    assertThat(validate(json))
        .filteredOn(Finding::isError)
        .extracting(Finding::expression)
        .containsOnly("Medication.status", "Medication.batch.expirationDate");
  }

  @Test
  void every_type_of_R4_can_be_validated() {
    for (String type : Cases.FHIR.getResourceTypes()) {
      assertThatCode(() -> validate("{\"resourceType\": \"" + type + "\", \"nothing\": true}"))
          .as(type)
          .doesNotThrowAnyException();
      assertThat(validate("{\"resourceType\": \"" + type + "\", \"nothing\": true}"))
          .as(type)
          .anyMatch(one -> one.isError() && one.message().contains("nothing"));
    }
  }

  @Test
  void a_further_profile_is_asked_for_by_its_canonical() {
    String json = "{\"resourceType\": \"Patient\"}";
    assertThat(validate(json)).noneMatch(Finding::isError);
    assertThat(validate(json, PATIENT)).anyMatch(Finding::isError);
    assertThat(validate(json, PATIENT + "|0.1.0")).anyMatch(Finding::isError);
    assertThat(Cases.VALIDATOR.knows(PATIENT)).isTrue();
  }

  @Test
  void a_profile_that_nobody_knows_is_an_error() {
    String unknown = "https://elsewhere.example/StructureDefinition/x-17";
    assertThat(Cases.VALIDATOR.knows(unknown)).isFalse();
    assertThat(validate("{\"resourceType\": \"Patient\"}", unknown).get(0).line())
        .isEqualTo(
            "error |  | Profile \""
                + unknown
                + "\" is not known here; expected one of R4 or of Indwell. (profile "
                + unknown
                + ")");
    String claimed =
        "{\"resourceType\": \"Patient\", \"meta\": {\"profile\": [\"" + unknown + "\"]}}";
    assertThat(validate(claimed)).anyMatch(Finding::isError);
  }

  @Test
  void an_unknown_SNOMED_or_LOINC_code_is_no_error_where_nothing_binds_it() {
    String json =
        """
        {"resourceType": "Observation", "status": "final", "code": {"coding": [
          {"system": "http://loinc.org", "code": "8310-5"},
          {"system": "http://snomed.info/sct", "code": "386725007"}]}}
        """;
    assertThat(validate(json)).noneMatch(Finding::isError);
  }

  @Test
  void what_is_no_resource_is_an_answer_and_no_exception() {
    for (String text : List.of("", "{", "[]", "{}", "{\"resourceType\": \"Bed\"}", "\u0000")) {
      assertThat(validate(text)).as("'%s'", text).anyMatch(Finding::isError);
    }
    assertThat(validate("{\"resourceType\": \"Patient\"}")).noneMatch(Finding::isError);
  }

  @Test
  void it_is_ready_once_it_has_warmed_up_with_the_samples_of_the_class_path() {
    HapiProfileValidator fresh = HapiProfileValidator.open(Cases.FHIR, 1);
    assertThat(fresh.ready()).isFalse();
    fresh.warmUp();
    assertThat(fresh.ready()).isTrue();
  }

  /** With one slot alone, callers get their turn between two samples. */
  @Test
  void callers_are_served_while_it_exercises() throws Exception {
    HapiProfileValidator one = HapiProfileValidator.open(Cases.FHIR, 1);
    one.warmUp();
    CompletableFuture<Void> exercise = CompletableFuture.runAsync(one::exercise);
    do {
      assertThat(one.validate("{\"resourceType\": \"Patient\"}".getBytes(UTF_8)))
          .noneMatch(Finding::isError);
    } while (!exercise.isDone());
    exercise.get();
  }

  @Test
  void many_threads_get_the_answers_of_one() throws Exception {
    List<byte[]> corpus = new ArrayList<>();
    Cases.files(Cases.INVALID, ".json").forEach(file -> corpus.add(Cases.bytes(file)));
    List<List<Finding>> alone = corpus.stream().map(Cases.VALIDATOR::validate).toList();
    ExecutorService threads = Executors.newFixedThreadPool(4);
    try {
      Callable<List<List<Finding>>> all =
          () -> corpus.stream().map(Cases.VALIDATOR::validate).toList();
      for (Future<List<List<Finding>>> one : threads.invokeAll(List.of(all, all, all, all))) {
        assertThat(one.get()).isEqualTo(alone);
      }
    } finally {
      threads.shutdownNow();
    }
  }
}
