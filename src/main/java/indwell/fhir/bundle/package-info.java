/** What a resource that was sent is, and whether it agrees with what the events make. */
package indwell.fhir.bundle;
