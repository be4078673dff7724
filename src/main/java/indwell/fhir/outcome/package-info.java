/** Findings as OperationOutcomes; the only place where one is made of the other. */
package indwell.fhir.outcome;
