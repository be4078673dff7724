package indwell.fhir.term;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.event.CareItem;
import indwell.domain.event.Indication;
import indwell.domain.event.InsertionStep;
import indwell.domain.rule.FlagCode;
import indwell.fhir.map.FhirJson;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import org.hl7.fhir.r4.model.CodeSystem;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** Our own concepts are those that fhir-profiles publishes, code and display. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class LocalDisplaysTest {

  static Stream<Term> terms() {
    Stream<Term> single =
        Stream.of(
            LocalCodes.BALLOON_VOLUME,
            LocalCodes.INITIAL_DRAINAGE,
            LocalCodes.NEED_REVIEW,
            LocalCodes.STATED_INDICATION,
            LocalCodes.URINE_RATE,
            LocalCodes.SUPRAPUBIC_CATHETER,
            LocalCodes.SECUREMENT,
            LocalCodes.SIZE,
            LocalCodes.LUMENS,
            LocalCodes.BALLOON_LABEL,
            LocalCodes.MATERIAL);
    return Stream.of(
            single,
            Stream.of(Indication.values()).map(IndicationTerms::local),
            Stream.of(InsertionStep.values()).map(BedsideTerms::of),
            Stream.of(CareItem.values()).map(BedsideTerms::of),
            Stream.of(FlagCode.values())
                .map(
                    one ->
                        new Term(Systems.codeSystem("catheter-flag"), one.code(), one.display())))
        .flatMap(all -> all);
  }

  @ParameterizedTest
  @MethodSource("terms")
  void a_concept_is_published_with_that_display(Term term) throws IOException {
    String id = term.system().substring(Systems.codeSystem("").length());
    Path file = Path.of("fhir-profiles", "CodeSystem-" + id + ".json");

    CodeSystem published = (CodeSystem) FhirJson.parse(Files.readString(file));

    List<Term> concepts =
        published.getConcept().stream()
            .map(one -> new Term(published.getUrl(), one.getCode(), one.getDisplay()))
            .toList();
    assertThat(concepts).contains(term);
  }
}
