package indwell.web.fhir;

import indwell.domain.refusal.IssueCode;
import indwell.intake.GateFinding;
import indwell.intake.GateLimits;
import indwell.intake.GateResult;
import indwell.intake.JsonGate;
import java.util.Map;
import java.util.Optional;

/**
 * A FHIR body that has passed the gate. FHIR parsers take names that stand twice, absurd numbers
 * and endless nesting, each in a way of its own, so no parser sees a body that has not been here.
 *
 * @param bytes exactly as they were sent
 * @param type the resource type that it states
 * @param id the id that it states
 */
// The bytes are never compared or printed.
@SuppressWarnings("ArrayRecordComponent")
record FhirBody(byte[] bytes, String type, Optional<String> id) {
  /** No R4 resource nests deeper by itself; below it the FHIR validator is safe from recursion. */
  private static final int MAX_DEPTH = 100;

  private static final int MAX_STRING_LENGTH = 1 << 20;
  private static final GateLimits LIMITS = GateLimits.forOneDocument(MAX_DEPTH, MAX_STRING_LENGTH);

  /**
   * Reads a body that is one resource.
   *
   * @throws FhirRefusal 400 when it is none
   */
  static FhirBody read(byte[] bytes) {
    GateResult result = JsonGate.read(bytes, LIMITS);
    if (result instanceof GateResult.Stopped stopped) {
      throw FhirRefusal.of(400, stopped.code(), "", stopped.sentence());
    }
    GateResult.Tree tree = (GateResult.Tree) result;
    if (!tree.findings().isEmpty()) {
      throw new FhirRefusal(400, tree.findings().stream().map(GateFinding::issue).toList());
    }
    if (tree.root() instanceof Map<?, ?> resource
        && resource.get("resourceType") instanceof String type) {
      return new FhirBody(
          bytes,
          type,
          resource.get("id") instanceof String id ? Optional.of(id) : Optional.empty());
    }
    throw FhirRefusal.of(
        400,
        IssueCode.BAD_RESOURCE,
        "",
        "The body is no FHIR resource; expected an object with a resourceType.");
  }
}
