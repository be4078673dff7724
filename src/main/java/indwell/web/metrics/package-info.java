/** The figures of the service over HTTP. */
package indwell.web.metrics;
