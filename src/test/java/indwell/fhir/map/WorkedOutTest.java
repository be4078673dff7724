package indwell.fhir.map;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.tuple;

import indwell.domain.event.Ward;
import indwell.domain.rule.AllRules;
import indwell.domain.rule.Bedside;
import indwell.domain.rule.FlagCode;
import indwell.domain.rule.FlagSpan;
import indwell.domain.rule.RuleSettings;
import indwell.domain.time.FacilityCalendar;
import indwell.domain.timeline.DayCount;
import indwell.fhir.Told;
import indwell.fhir.term.Extensions;
import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import org.hl7.fhir.r4.model.Extension;
import org.hl7.fhir.r4.model.Flag;
import org.hl7.fhir.r4.model.MeasureReport;
import org.hl7.fhir.r4.model.Quantity;
import org.hl7.fhir.r4.model.Reference;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** Flags and reports, which are worked out and never stored. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class WorkedOutTest {
  private static final LocalDate FIRST = LocalDate.of(2026, 3, 1);
  private static final LocalDate LAST = LocalDate.of(2026, 3, 31);

  private static final MeasureReportMapper REPORTS = new MeasureReportMapper(Optional.empty());

  /** Source: contract, flag no-accepted-indication and its shape. */
  @Test
  void an_active_flag_names_catheter_rule_source_and_facts() {
    FlagSpan span = notIndicated();

    Flag flag = FlagMapper.active(span, Told.BERLIN);

    assertThat(flag.getStatus().toCode()).isEqualTo("active");
    assertThat(flag.getPeriod().getStartElement().getValueAsString())
        .isEqualTo("2026-03-02T09:00:00+01:00");
    assertThat(flag.getPeriod().hasEnd()).isFalse();
    assertThat(flag.getCode().getCodingFirstRep().getSystem())
        .isEqualTo("https://indwell.example/fhir/CodeSystem/catheter-flag");
    assertThat(flag.getCode().getCodingFirstRep().getCode()).isEqualTo("no-accepted-indication");
    assertThat(flag.getCategoryFirstRep().getCodingFirstRep().getCode()).isEqualTo("safety");
    assertThat(
            ((Reference)
                    flag.getExtensionByUrl("http://hl7.org/fhir/StructureDefinition/flag-detail")
                        .getValue())
                .getReference())
        .isEqualTo(ResourceId.device(Told.PATIENT, span.catheter().catheter()).text());
    Extension trace = flag.getExtensionByUrl(Extensions.TRACE);
    assertThat(trace.getExtensionString("rule")).isEqualTo("FLAG-INDICATION");
    assertThat(trace.getExtensionString("source")).contains("HICPAC");
    assertThat(trace.getExtensionsByUrl("fact"))
        .extracting(fact -> ((Reference) fact.getValue()).getReference())
        .contains(ResourceId.ofEvent("Observation", Told.key(2)).text());
  }

  @Test
  void a_past_flag_has_an_end_and_the_same_id() {
    FlagSpan span = notIndicated();

    Flag flag = FlagMapper.past(span, Instant.parse("2026-03-03T08:00:00Z"), Told.BERLIN);

    assertThat(flag.getStatus().toCode()).isEqualTo("inactive");
    assertThat(flag.getPeriod().getEndElement().getValueAsString())
        .isEqualTo("2026-03-03T09:00:00+01:00");
    assertThat(ResourceId.of(flag)).isEqualTo(ResourceId.of(FlagMapper.active(span, Told.BERLIN)));
  }

  private static FlagSpan notIndicated() {
    Told told =
        new Told()
            .admitted("W1", "01 08:00")
            .inserted("c1", "01 09:00")
            .noLongerNeeded("c1", "02 08:00");
    Bedside bedside =
        new Bedside(
            told.timeline(), RuleSettings.DEFAULTS, new FacilityCalendar(Told.BERLIN.zone()));
    return AllRules.spans(bedside).stream()
        .filter(span -> span.code() == FlagCode.NO_ACCEPTED_INDICATION)
        .findFirst()
        .orElseThrow();
  }

  /** Check value DUR-1: 26 catheter days in 100 patient days are 0.26 (HL7 HAI sample summary). */
  @Test
  void a_report_carries_both_sums_and_their_ratio() {
    MeasureReport report = REPORTS.summary(scope(LAST), new DayCount(100, 26), List.of());

    assertThat(report.getMeasure())
        .isEqualTo("https://indwell.example/fhir/Measure/catheter-device-days|1.0.0");
    assertThat(report.getSubject().getReference()).isEqualTo("Location/9W");
    assertThat(report.getPeriod().getStartElement().getValueAsString()).isEqualTo("2026-03-01");
    assertThat(report.getPeriod().getEndElement().getValueAsString()).isEqualTo("2026-03-31");
    assertThat(report.getGroupFirstRep().getPopulation())
        .extracting(
            population -> population.getCode().getCodingFirstRep().getCode(),
            population -> population.getCount())
        .containsExactly(tuple("denominator", 100), tuple("numerator", 26));
    assertThat(report.getGroupFirstRep().getMeasureScore().getValue()).isEqualTo("0.26");
  }

  /** Source: contract, $device-days: half up to six decimals. */
  @Test
  void the_ratio_is_rounded_half_up_to_six_decimals() {
    assertThat(score(3, 2).getValue()).isEqualTo("0.666667");
    assertThat(score(2_000_000, 1).getValue()).isEqualTo("0.000001");
  }

  @Test
  void without_patient_days_there_is_a_reason_and_no_ratio() {
    Quantity none = score(0, 0);

    assertThat(none.hasValue()).isFalse();
    assertThat(
            none.getExtensionString("http://hl7.org/fhir/StructureDefinition/data-absent-reason"))
        .isEqualTo("not-applicable");
  }

  @Test
  void a_report_over_two_months_is_not_made() {
    assertThatThrownBy(() -> scope(LAST.plusDays(1)))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessage("A report covers one calendar month, not 2026-03-01 to 2026-04-01");
  }

  private static ReportScope scope(LocalDate last) {
    return new ReportScope(new Ward("9W"), Optional.empty(), FIRST, last);
  }

  private static Quantity score(long patientDays, long catheterDays) {
    DayCount days = new DayCount(patientDays, catheterDays);
    return REPORTS.summary(scope(LAST), days, List.of()).getGroupFirstRep().getMeasureScore();
  }
}
