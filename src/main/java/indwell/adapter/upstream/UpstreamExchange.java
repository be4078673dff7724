package indwell.adapter.upstream;

import ca.uhn.fhir.rest.client.apache.ApacheHttpRequest;
import ca.uhn.fhir.rest.client.api.IClientInterceptor;
import ca.uhn.fhir.rest.client.api.IHttpRequest;
import ca.uhn.fhir.rest.client.api.IHttpResponse;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.Future;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;

/** One request and what its answer was, as far as HAPI's client does not tell. */
final class UpstreamExchange implements IClientInterceptor {
  private final Optional<String> authorization;
  private final ScheduledExecutorService alarms;
  private final Duration deadline;
  private final CallSpan span;
  private Optional<Future<?>> alarm = Optional.empty();
  private int status;
  private Map<String, List<String>> headers = Map.of();

  UpstreamExchange(
      Optional<String> authorization,
      ScheduledExecutorService alarms,
      Duration deadline,
      CallSpan span) {
    this.authorization = authorization;
    this.alarms = alarms;
    this.deadline = deadline;
    this.span = span;
  }

  /** A server that sends a byte now and then would keep us for ever. */
  @Override
  public void interceptRequest(IHttpRequest request) {
    authorization.ifPresent(header -> request.addHeader("Authorization", header));
    span.begin(request.getHttpVerbName()).forEach(request::addHeader);
    if (request instanceof ApacheHttpRequest apache) {
      alarm =
          Optional.of(
              alarms.schedule(
                  () -> apache.getApacheRequest().abort(),
                  deadline.toMillis(),
                  TimeUnit.MILLISECONDS));
    }
  }

  @Override
  public void interceptResponse(IHttpResponse response) {
    status = response.getStatus();
    headers = response.getAllHeaders();
  }

  void over() {
    alarm.ifPresent(one -> one.cancel(false));
    span.end(status);
  }

  /** HTTP status; 0 without an answer. */
  int status() {
    return status;
  }

  Optional<String> authorization() {
    return authorization;
  }

  Optional<String> header(String name) {
    return headers.entrySet().stream()
        .filter(one -> name.equalsIgnoreCase(one.getKey()))
        .flatMap(one -> one.getValue().stream())
        .findFirst();
  }

  /** Whether the answer has a body that is no FHIR as JSON, such as the page of a proxy. */
  boolean foreign() {
    return header("Content-Type").filter(type -> !type.contains("json")).isPresent();
  }
}
