/** Local time of the facility: dates, count times and half-open spans. */
package indwell.domain.time;
