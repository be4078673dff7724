/**
 * The profile validator: HAPI's validator over {@code fhir-profiles} and base R4, without network.
 */
package indwell.adapter.validation;
