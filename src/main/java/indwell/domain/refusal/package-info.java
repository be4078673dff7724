/** Findings about requests and data, as values. */
package indwell.domain.refusal;
