/** What happens at the bedside, as values. */
package indwell.domain.event;
