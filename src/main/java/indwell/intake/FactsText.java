package indwell.intake;

import indwell.domain.surveillance.ConfirmedEvents;
import indwell.domain.surveillance.MonthFacts;
import indwell.domain.surveillance.WardMonth;
import indwell.domain.surveillance.WeeklySample;
import java.math.BigDecimal;
import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;

/**
 * Facts as JSON: one text for one content, whatever they were sent as. The fields stand in a fixed
 * order, dates ascend, numbers are by value.
 */
public final class FactsText {
  private final List<String> fields = new ArrayList<>();

  private FactsText() {}

  /** The one text of these facts, which is stored and compared. */
  public static String canonical(MonthFacts facts) {
    FactsText text = new FactsText();
    text.add(facts);
    return text.object();
  }

  /** The facts with their ward and month, as they are answered and may be sent back. */
  public static String withPlace(WardMonth month, String canonical) {
    FactsText text = new FactsText();
    text.text(FactsField.WARD, Optional.of(month.ward().code()));
    text.text(FactsField.MONTH, Optional.of(month.month().toString()));
    String place = text.object();
    return canonical.equals("{}")
        ? place
        : place.substring(0, place.length() - 1) + "," + canonical.substring(1);
  }

  /**
   * Reads back what {@link #canonical} gave, without asking the clock.
   *
   * @throws IllegalArgumentException when the text is no canonical facts
   */
  public static MonthFacts read(WardMonth month, String canonical) {
    byte[] bytes = canonical.getBytes(StandardCharsets.UTF_8);
    if (JsonGate.read(bytes, FactsBodies.OBJECT) instanceof GateResult.Tree tree
        && tree.root() instanceof Map<?, ?> fields
        && FactsReader.read(
                fields, tree.findings(), FactsField::json, Optional.of(month), LocalDate.MAX)
            instanceof FactsReading.Accepted accepted) {
      return accepted.facts();
    }
    throw new IllegalArgumentException("Stored facts cannot be read back");
  }

  private void add(MonthFacts facts) {
    number(FactsField.MANUAL_PATIENT_DAYS, facts.manualPatientDays());
    number(FactsField.MANUAL_CATHETER_DAYS, facts.manualCatheterDays());
    facts.weeklySample().ifPresent(this::add);
    number(FactsField.CONFIRMED_CAUTI, facts.confirmed().map(ConfirmedEvents::count));
    facts
        .confirmed()
        .flatMap(ConfirmedEvents::dates)
        .ifPresent(dates -> dates(FactsField.CAUTI_DATES, dates));
    decimal(FactsField.PREDICTED_CAUTI, facts.predictedCauti());
    decimal(FactsField.PREDICTED_DEVICE_DAYS, facts.predictedDeviceDays());
    text(FactsField.BASELINE, facts.baseline());
  }

  private void add(WeeklySample sample) {
    if (sample instanceof WeeklySample.Dates dates) {
      dates(FactsField.SAMPLED_DATES, dates.dates());
    } else if (sample instanceof WeeklySample.Sums sums) {
      text(FactsField.SAMPLED_WEEKDAY, Optional.of(sums.weekday().name().toLowerCase(Locale.ROOT)));
      decimal(FactsField.SAMPLED_PATIENT_DAYS, Optional.of(BigDecimal.valueOf(sums.patientDays())));
      decimal(
          FactsField.SAMPLED_CATHETER_DAYS, Optional.of(BigDecimal.valueOf(sums.catheterDays())));
    }
  }

  private void number(FactsField field, Optional<Integer> number) {
    number.ifPresent(value -> field(field, value.toString()));
  }

  private void decimal(FactsField field, Optional<BigDecimal> number) {
    number.ifPresent(value -> field(field, plain(value)));
  }

  private static String plain(BigDecimal number) {
    return number.signum() == 0 ? "0" : number.stripTrailingZeros().toPlainString();
  }

  private void text(FactsField field, Optional<String> text) {
    text.ifPresent(value -> field(field, CanonicalText.quoted(value)));
  }

  private void dates(FactsField field, Collection<LocalDate> dates) {
    field(
        field,
        "[" + String.join(",", dates.stream().map(date -> "\"" + date + "\"").toList()) + "]");
  }

  private void field(FactsField field, String json) {
    fields.add("\"" + field.json() + "\":" + json);
  }

  private String object() {
    return "{" + String.join(",", fields) + "}";
  }
}
