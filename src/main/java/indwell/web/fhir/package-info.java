/**
 * FHIR R4 under {@code /fhir}: one dispatcher, one class for each interaction or operation. The
 * CapabilityStatement is made of the same list that the dispatcher works by.
 */
package indwell.web.fhir;
