/** What the service does, counted with Micrometer; the only place that knows it. */
package indwell.boot.metrics;
