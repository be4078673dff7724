package indwell.intake;

import indwell.domain.refusal.IssueCode;
import java.util.List;

/** What became of a body at the gate. */
public sealed interface GateResult permits GateResult.Tree, GateResult.Stopped {

  /**
   * Well-formed JSON.
   *
   * @param root a {@code Map<String, Object>} in the order of the body, a {@code List<Object>}, a
   *     String, BigDecimal or Boolean, or a {@link JsonMarker}
   * @param findings faults of single values, at most {@link FindingLog#MOST} for the whole or for
   *     each element of an array body
   */
  record Tree(Object root, List<GateFinding> findings) implements GateResult {
    public Tree {
      findings = List.copyOf(findings);
    }
  }

  /**
   * Not read to its end.
   *
   * @param code MALFORMED_JSON, NESTED_TOO_DEEP or TOO_MANY_EVENTS
   * @param sentence what is wrong and what was expected
   */
  record Stopped(IssueCode code, String sentence) implements GateResult {}
}
