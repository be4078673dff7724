package indwell.intake;

import indwell.domain.refusal.IssueCode;
import java.util.ArrayList;
import java.util.List;

/** Findings of one document or element; bounded, so that a hostile body cannot fill the memory. */
final class FindingLog {
  /** As many findings are kept; more of them would tell the reader nothing new. */
  static final int MOST = 20;

  private final List<GateFinding> findings = new ArrayList<>();

  boolean full() {
    return findings.size() >= MOST;
  }

  void add(IssueCode code, String path, String sentence) {
    if (!full()) {
      findings.add(new GateFinding(code, path, sentence));
    }
  }

  /** Hands over what was found since the last call. */
  List<GateFinding> drain() {
    List<GateFinding> drained = List.copyOf(findings);
    findings.clear();
    return drained;
  }
}
