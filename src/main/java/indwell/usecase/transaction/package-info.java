/** Takes FHIR transactions: resources become events, all of them or none. */
package indwell.usecase.transaction;
