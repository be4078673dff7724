package indwell.web.page.patient;

import indwell.domain.rule.UrineLimit;
import indwell.usecase.PatientStory.Output;
import indwell.usecase.PatientStory.Story;
import java.util.List;

/**
 * How low urine output is called in a stay. Wards may read it differently, and then each interval
 * says which limit is meant.
 */
final class UrineLimitWords {
  private final List<UrineLimit> limits;

  private UrineLimitWords(List<UrineLimit> limits) {
    this.limits = limits;
  }

  static UrineLimitWords of(Story story) {
    return new UrineLimitWords(story.outputs().stream().map(Output::limit).distinct().toList());
  }

  /** What a low interval is; empty without any. */
  String low() {
    if (limits.isEmpty()) {
      return "";
    }
    if (limits.size() > 1) {
      return "low by the reading of the ward";
    }
    UrineLimit limit = limits.get(0);
    return limit.lowAtRate()
        ? "not above " + number(limit) + " mL/kg/h"
        : "below " + number(limit) + " mL/kg/h";
  }

  /** The heading of the column of sides. */
  String heading() {
    return limits.size() == 1 ? "Against " + number(limits.get(0)) : "Against the limit";
  }

  /** On which side of its limit the interval is, whose rate is known. */
  String side(Output output) {
    String side =
        output.limit().lowAtRate()
            ? output.isLow() ? "not above" : "above"
            : output.isLow() ? "below" : "at or above";
    return limits.size() == 1 ? side : side + " " + number(output.limit());
  }

  static String number(UrineLimit limit) {
    return limit.rate().toPlainString();
  }
}
