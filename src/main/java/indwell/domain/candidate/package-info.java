/**
 * What makes a urine culture a candidate for review by a person: windows, criteria, date of event,
 * device association. A candidate is neither a diagnosis nor a confirmed event. Every step is one
 * named rule that says what it found and from which facts.
 */
package indwell.domain.candidate;
