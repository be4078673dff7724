/**
 * The ward page at {@code /} and {@code /wards/{ward}}, and what is recorded from it: plain HTML,
 * complete without scripts.
 */
package indwell.web.ward;
