/** Telling another FHIR server of the record: what is sent when, and what comes of it. */
package indwell.usecase.publish;
