/** Events and timelines read back from FHIR resources. */
package indwell.fhir.timeline;
