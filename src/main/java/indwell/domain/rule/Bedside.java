package indwell.domain.rule;

import indwell.domain.time.FacilityCalendar;
import indwell.domain.timeline.Timeline;

/**
 * What a flag rule looks at beside the catheter itself.
 *
 * @param timeline the whole timeline of the patient
 * @param settings the limits of the patient's ward
 * @param calendar the facility's calendar
 */
public record Bedside(Timeline timeline, RuleSettings settings, FacilityCalendar calendar) {}
