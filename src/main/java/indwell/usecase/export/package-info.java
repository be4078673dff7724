/** Exports in the background (FHIR Bulk Data 3.0.0): orders, files, and the thread between them. */
package indwell.usecase.export;
