package indwell.adapter.upstream;

import ca.uhn.fhir.parser.DataFormatException;
import ca.uhn.fhir.rest.api.EncodingEnum;
import ca.uhn.fhir.rest.api.MethodOutcome;
import ca.uhn.fhir.rest.api.PreferReturnEnum;
import ca.uhn.fhir.rest.api.RequestFormatParamStyleEnum;
import ca.uhn.fhir.rest.client.apache.ApacheRestfulClientFactory;
import ca.uhn.fhir.rest.client.api.IGenericClient;
import ca.uhn.fhir.rest.client.api.ServerValidationModeEnum;
import ca.uhn.fhir.rest.gclient.IUpdateExecutable;
import ca.uhn.fhir.rest.gclient.IUpdateTyped;
import ca.uhn.fhir.rest.server.exceptions.BaseServerResponseException;
import indwell.fhir.map.FhirJson;
import indwell.port.Upstream;
import indwell.port.UpstreamAnswer;
import indwell.port.UpstreamAnswer.Kind;
import java.net.URI;
import java.time.Clock;
import java.time.Duration;
import java.util.Optional;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.ScheduledThreadPoolExecutor;
import java.util.function.Function;
import org.hl7.fhir.instance.model.api.IBaseOperationOutcome;
import org.hl7.fhir.instance.model.api.IBaseResource;
import org.hl7.fhir.r4.model.Bundle;
import org.hl7.fhir.r4.model.OperationOutcome;
import org.hl7.fhir.r4.model.Resource;

/** Another FHIR server by HAPI's generic client. Goes nowhere that it is sent by an answer. */
public final class HapiUpstream implements Upstream, AutoCloseable {
  private final UpstreamAddress address;
  private final Credentials credentials;
  private final Duration patience;
  private final Clock clock;
  private final UpstreamHttp http;
  private final ApacheRestfulClientFactory clients;
  private final ScheduledExecutorService alarms;

  /**
   * Asks for nothing yet.
   *
   * @param patience longest that a request may take, from its first byte to the last of its answer
   * @param connections most at once
   */
  public HapiUpstream(
      UpstreamAddress address,
      Credentials credentials,
      Duration patience,
      int connections,
      Clock clock) {
    this.address = address;
    this.credentials = credentials;
    this.patience = patience;
    this.clock = clock;
    this.http = new UpstreamHttp(patience, connections);
    this.clients = new ApacheRestfulClientFactory(FhirJson.context());
    clients.setServerValidationMode(ServerValidationModeEnum.NEVER);
    clients.setHttpClient(http.client());
    ScheduledThreadPoolExecutor alarm =
        new ScheduledThreadPoolExecutor(
            1,
            task -> {
              Thread thread = new Thread(task, "indwell-upstream-alarm");
              thread.setDaemon(true);
              return thread;
            });
    alarm.setRemoveOnCancelPolicy(true);
    this.alarms = alarm;
  }

  @Override
  public UpstreamAnswer put(Sending sending) {
    String below = sending.id().isEmpty() ? "?{criterion}" : "/{id}";
    return ask(
        "/" + sending.resource().fhirType() + below, client -> update(client, sending).execute());
  }

  private static IUpdateExecutable update(IGenericClient client, Sending sending) {
    IUpdateTyped update = client.update().resource(sending.resource());
    IUpdateExecutable addressed =
        sending.id().isEmpty()
            ? update.conditionalByUrl(sending.resource().fhirType() + "?" + sending.criterion())
            : update.withId(sending.id());
    if (!sending.ifVersion().isEmpty()) {
      addressed.withAdditionalHeader("If-Match", sending.ifVersion());
    }
    return addressed.prefer(PreferReturnEnum.MINIMAL);
  }

  @Override
  public UpstreamAnswer read(String type, String id) {
    return ask("/" + type + "/{id}", client -> client.read().resource(type).withId(id).execute());
  }

  @Override
  public UpstreamAnswer search(String type, String criterion) {
    return ask(
        "/" + type + "?{criterion}",
        client ->
            client.search().byUrl(type + "?" + criterion).returnBundle(Bundle.class).execute());
  }

  @Override
  public UpstreamAnswer page(String next) {
    URI uri;
    try {
      uri = address.base().resolve(next);
    } catch (IllegalArgumentException unreadable) {
      return UpstreamAnswer.without(Kind.NOT_FHIR, 200, "next-unreadable");
    }
    return address.sameOrigin(uri)
        ? ask(
            "/{page}",
            client ->
                client.loadPage().byUrl(uri.toString()).andReturnBundle(Bundle.class).execute())
        : UpstreamAnswer.without(Kind.REDIRECTED, 200, "next-at-another-server");
  }

  @Override
  public void close() {
    alarms.shutdownNow();
    http.close();
  }

  /** Once more when what we showed is not accepted any more, and there is something new to show. */
  private UpstreamAnswer ask(String template, Function<IGenericClient, Object> request) {
    try {
      Optional<String> shown = credentials.authorization();
      UpstreamAnswer answer = once(template, request, shown);
      boolean again =
          answer.kind() == Kind.UNAUTHORISED && shown.filter(credentials::renew).isPresent();
      return again ? once(template, request, credentials.authorization()) : answer;
    } catch (TokenUnavailable none) {
      return none.answer();
    }
  }

  private UpstreamAnswer once(
      String template, Function<IGenericClient, Object> request, Optional<String> authorization) {
    CallSpan span = new CallSpan(address.base(), template);
    UpstreamExchange exchange = new UpstreamExchange(authorization, alarms, patience, span);
    AnswerReading reading = new AnswerReading(exchange, clock);
    try {
      return read(reading, request.apply(client(exchange)));
    } catch (BaseServerResponseException refused) {
      boolean read = exchange.status() > 299;
      return read ? reading.refused(outcome(refused.getOperationOutcome())) : reading.broken();
    } catch (DataFormatException unreadable) {
      return reading.broken();
    } finally {
      exchange.over();
    }
  }

  private IGenericClient client(UpstreamExchange exchange) {
    IGenericClient client = clients.newGenericClient(address.toString());
    client.setEncoding(EncodingEnum.JSON);
    client.setFormatParamStyle(RequestFormatParamStyleEnum.NONE);
    client.registerInterceptor(exchange);
    return client;
  }

  private static UpstreamAnswer read(AnswerReading reading, Object result) {
    if (result instanceof MethodOutcome outcome) {
      return reading.read(resource(outcome.getResource()), outcome(outcome.getOperationOutcome()));
    }
    return reading.read(resource(result), Optional.empty());
  }

  private static Optional<OperationOutcome> outcome(IBaseOperationOutcome any) {
    return Optional.ofNullable(any)
        .filter(OperationOutcome.class::isInstance)
        .map(OperationOutcome.class::cast);
  }

  private static Optional<Resource> resource(Object any) {
    return any instanceof IBaseResource && any instanceof Resource resource
        ? Optional.of(resource)
        : Optional.empty();
  }
}
