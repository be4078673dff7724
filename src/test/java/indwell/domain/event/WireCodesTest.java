package indwell.domain.event;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.FieldSource;

/** The codes of the contract, section 2, in its order and none beside them. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class WireCodesTest {

  /** An enumeration, how it is written and read, and what the contract lists. */
  record Codes<E>(
      E[] all, Function<E, String> code, Function<String, Optional<E>> of, String list) {
    @Override
    public String toString() {
      return all[0].getClass().getSimpleName();
    }

    private void areListed() {
      List<String> listed = List.of(list.split("[\\s,]+"));
      assertThat(Arrays.stream(all).map(code)).containsExactlyElementsOf(listed);
      for (E one : all) {
        assertThat(of.apply(code.apply(one))).contains(one);
      }
      assertThat(of.apply(listed.get(0).toUpperCase(java.util.Locale.ROOT))).isEmpty();
      assertThat(of.apply("")).isEmpty();
    }
  }

  static final List<Codes<?>> VOCABULARY =
      List.of(
          new Codes<>(
              EventType.values(),
              EventType::code,
              EventType::ofCode,
              """
              patient-admitted patient-transferred catheter-inserted catheter-exchanged
              need-reviewed securement-changed care-checked urine-measured specimen-collected
              weight-measured catheter-removed patient-discharged"""),
          new Codes<>(Route.values(), Route::code, Route::ofCode, "urethral suprapubic"),
          new Codes<>(Drainage.values(), Drainage::code, Drainage::ofCode, "bag none"),
          new Codes<>(
              Indication.values(),
              Indication::code,
              Indication::ofCode,
              """
              acute-retention outlet-obstruction critical-illness-output perioperative
              open-wound-incontinence prolonged-immobilisation end-of-life-comfort other
              incontinence-care urine-sampling"""),
          new Codes<>(
              InsertionStep.values(),
              InsertionStep::code,
              InsertionStep::ofCode,
              """
              hand-hygiene perineal-cleansing sterile-gloves sterile-drape antiseptic-preparation
              lubricant no-pre-inflation advanced-after-urine full-syringe-in-balloon
              gentle-traction securement-applied bag-below-bladder no-dependent-loop
              patient-education"""),
          new Codes<>(
              StepResult.values(),
              StepResult::code,
              StepResult::ofCode,
              "done not-done not-applicable"),
          new Codes<>(
              CareItem.values(),
              CareItem::code,
              CareItem::ofCode,
              """
              bag-below-bladder bag-off-floor no-dependent-loop closed-system securement-intact
              meatal-hygiene"""),
          new Codes<>(
              SpecimenPurpose.values(),
              SpecimenPurpose::code,
              SpecimenPurpose::ofCode,
              "culture urinalysis hold"));

  @ParameterizedTest
  @FieldSource("VOCABULARY")
  void the_codes_are_those_of_the_contract(Codes<?> codes) {
    codes.areListed();
  }

  /** Contract, section 2: "the two that the guideline calls inappropriate". */
  @Test
  void two_indications_are_not_accepted() {
    assertThat(Arrays.stream(Indication.values()).filter(indication -> !indication.accepted()))
        .containsExactly(Indication.INCONTINENCE_CARE, Indication.URINE_SAMPLING);
  }

  /** Contract, section 4: the order of the events of one instant. */
  @Test
  void the_events_of_an_instant_are_ranked() {
    assertThat(Arrays.stream(EventType.values()).map(EventType::rankWithinInstant))
        .containsExactly(0, 1, 2, 3, 4, 4, 4, 4, 4, 4, 5, 6);
  }
}
