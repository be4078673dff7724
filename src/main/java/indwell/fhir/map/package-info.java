/**
 * The current events of one patient as FHIR resources, and back. One mapper for each kind of
 * resource; {@link indwell.fhir.map.ResourcePlan} says which resources there are.
 */
package indwell.fhir.map;
