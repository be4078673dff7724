/** Systems, canonicals and codes of the FHIR resources, each written once. */
package indwell.fhir.term;
