/** Packs the artifacts of {@code fhir-profiles} as a FHIR package; runs in the build. */
package indwell.boot.pack;
