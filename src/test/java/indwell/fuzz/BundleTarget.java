package indwell.fuzz;

import indwell.web.fhir.FhirCalls;

/** Transactions and batches. */
final class BundleTarget implements Target {
  private final FhirCalls calls = new FhirCalls();

  @Override
  public void take(byte[] input) {
    Oracle.answered(calls.send("POST", "", input));
  }
}
