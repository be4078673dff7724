/**
 * The arithmetic of surveillance: rates and ratios, weekly samples, the electronic count against
 * the manual one, standardised ratios with exact limits, predictions and control charts. Every
 * result is one of a named rule; what is undefined is absent and never 0.
 */
package indwell.domain.surveillance;
