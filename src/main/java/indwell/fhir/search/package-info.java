/**
 * What a resource can be found by: the search parameters of each type and how their values are read
 * from it. Source of names, types and meanings:
 * https://hl7.org/fhir/R4/searchparameter-registry.html
 */
package indwell.fhir.search;
