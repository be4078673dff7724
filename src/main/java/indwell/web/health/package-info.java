/** Whether the service can take events. */
package indwell.web.health;
