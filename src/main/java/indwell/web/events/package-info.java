/** Taking events: {@code POST /events}. */
package indwell.web.events;
