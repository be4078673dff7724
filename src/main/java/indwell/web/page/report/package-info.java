/** The month of a ward, or of the house, for a meeting: as a page with charts, and as CSV. */
package indwell.web.page.report;
