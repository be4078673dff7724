/** The hospital's FHIR server over HTTP, by HAPI's client, and how to prove to it who we are. */
package indwell.adapter.upstream;
