package indwell.domain.timeline;

import indwell.domain.event.EventKey;
import indwell.domain.event.Ward;
import indwell.domain.time.Span;

/**
 * Time in one ward without a movement in between.
 *
 * @param inpatient false in an emergency or outpatient area
 * @param span start inclusive, end exclusive
 * @param by the admission or transfer that began it
 */
public record WardStay(Ward ward, boolean inpatient, Span span, EventKey by) {}
