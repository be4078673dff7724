package indwell.boot.cli;

import indwell.intake.GateLimits;
import indwell.intake.GateResult;
import indwell.intake.JsonGate;
import indwell.port.ProfileValidator;
import indwell.port.ProfileValidator.Finding;
import indwell.port.ProfileValidator.Severity;
import java.util.ArrayList;
import java.util.List;

/** Looks at the raw bytes first, then validates what they hold. */
final class ResourceJudge {
  private static final GateLimits LIMITS = GateLimits.forOneDocument(64, 16 * 1024 * 1024);

  private ResourceJudge() {}

  static List<Finding> judge(byte[] json, ProfileValidator validator, List<String> profiles) {
    GateResult gate = JsonGate.read(json, LIMITS);
    if (gate instanceof GateResult.Stopped stopped) {
      return List.of(
          new Finding(
              Severity.FATAL,
              stopped.code().fhirIssueType(),
              "",
              stopped.code().code() + ": " + stopped.sentence()));
    }
    List<Finding> findings = new ArrayList<>();
    ((GateResult.Tree) gate)
        .findings()
        .forEach(
            one ->
                findings.add(
                    new Finding(
                        Severity.FATAL,
                        one.code().fhirIssueType(),
                        one.path(),
                        one.code().code() + ": " + one.sentence())));
    return findings.isEmpty() ? validator.validate(json, profiles) : findings;
  }
}
