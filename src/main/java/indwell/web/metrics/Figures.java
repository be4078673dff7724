package indwell.web.metrics;

/** The figures of the service at this moment. */
@FunctionalInterface
public interface Figures {
  /** Media type of the text: Prometheus, text exposition format 0.0.4. */
  String CONTENT_TYPE = "text/plain; version=0.0.4; charset=utf-8";

  /** All figures in the text exposition format; does not wait for the store. */
  String text();
}
