/** The reading of a patient's events: stays, wards, catheters and the day counts. */
package indwell.domain.timeline;
