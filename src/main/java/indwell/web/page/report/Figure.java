package indwell.web.page.report;

import indwell.web.page.Why;

/**
 * One figure of a report.
 *
 * @param path what {@code $unit-report} calls it, parts divided by points; those that it does not
 *     have begin with {@code practice}
 * @param what in words
 * @param value with all its decimals; empty when there is none
 * @param shown as people read it
 * @param unit empty for none
 * @param absent why there is no value; empty when there is one
 */
public record Figure(
    String path, String what, String value, String shown, String unit, String absent, Why why) {}
