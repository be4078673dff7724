/** Resources as another FHIR server is sent them, and whether what it has says the same. */
package indwell.fhir.publish;
