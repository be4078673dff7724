/**
 * Who may do what: scopes, roles and the decision, without a word of how a caller is recognised.
 * Pure Java.
 *
 * <p>Source: SMART App Launch 2.2.0, "Scopes for requesting FHIR resources",
 * https://hl7.org/fhir/smart-app-launch/scopes-and-launch-context.html
 */
package indwell.access;
