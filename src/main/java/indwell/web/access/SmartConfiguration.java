package indwell.web.access;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import indwell.access.Caller;
import indwell.access.Doubt;
import indwell.access.Issuer;
import indwell.access.Issuer.Endpoints;
import indwell.access.OwnScope;
import indwell.web.BeforeAnswer;
import indwell.web.Exchange;
import indwell.web.HttpAnswer;
import indwell.web.Workers;
import indwell.web.access.AccessMode.Guarded;
import io.quarkus.runtime.ShutdownEvent;
import io.vertx.core.Vertx;
import io.vertx.core.buffer.Buffer;
import io.vertx.ext.web.Router;
import io.vertx.ext.web.RoutingContext;
import jakarta.enterprise.context.ApplicationScoped;
import jakarta.enterprise.event.Observes;
import jakarta.inject.Inject;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.List;

/**
 * Tells clients where they get a token.
 *
 * <p>Source: https://hl7.org/fhir/smart-app-launch/conformance.html#using-well-known
 */
@ApplicationScoped
public class SmartConfiguration {
  private static final JsonFactory JSON = new JsonFactory();

  /** Before the routes of all FHIR. */
  private static final int EARLY = -1_000;

  private final Vertx vertx;
  private final AccessMode mode;
  private final Workers workers = new Workers("indwell-issuer", 1);

  /** Of the issuer of that mode, if it has one. */
  @Inject
  public SmartConfiguration(Vertx vertx, AccessMode mode) {
    this.vertx = vertx;
    this.mode = mode;
  }

  /** Puts it where clients look; nowhere in development mode, where nobody needs a token. */
  public void register(@Observes Router router) {
    if (mode instanceof Guarded guarded) {
      for (String below : List.of("", "/fhir")) {
        router
            .route(below + "/.well-known/smart-configuration")
            .order(EARLY)
            .handler(context -> answer(context, guarded.issuer()));
      }
    }
  }

  void stop(@Observes ShutdownEvent event) {
    workers.stop(1_000);
  }

  private void answer(RoutingContext context, Issuer issuer) {
    Exchange exchange = new Exchange(vertx, context.request(), BeforeAnswer.NOTHING);
    String path = context.request().path();
    workers.execute(
        () ->
            exchange.sendFromWorker(
                issuer
                    .endpoints()
                    .map(SmartConfiguration::found)
                    .orElseGet(() -> DenialAnswers.at(path, away()))));
  }

  private static Denial away() {
    return Denial.of(new Caller.Nobody(Doubt.ISSUER_AWAY).decide(AccessMode.PEOPLE)).orElseThrow();
  }

  private static HttpAnswer found(Endpoints endpoints) {
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    try (JsonGenerator json = JSON.createGenerator(bytes)) {
      json.writeStartObject();
      json.writeStringField("issuer", endpoints.issuer());
      json.writeStringField("jwks_uri", endpoints.keys());
      if (endpoints.authorization().isPresent()) {
        json.writeStringField("authorization_endpoint", endpoints.authorization().get());
      }
      json.writeStringField("token_endpoint", endpoints.token());
      write(json, "grant_types_supported", List.of("authorization_code", "client_credentials"));
      write(json, "code_challenge_methods_supported", List.of("S256"));
      write(json, "scopes_supported", scopes());
      write(
          json,
          "capabilities",
          List.of(
              "client-confidential-asymmetric",
              "permission-user",
              "permission-v1",
              "permission-v2"));
      json.writeEndObject();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    return HttpAnswer.of(200, "application/json", Buffer.buffer(bytes.toByteArray()));
  }

  private static List<String> scopes() {
    return List.of(
        "system/*.cruds",
        "user/*.cruds",
        "system/AuditEvent.rs",
        OwnScope.EVENTS_WRITE.uri(),
        OwnScope.SURVEILLANCE_READ.uri(),
        OwnScope.SURVEILLANCE_WRITE.uri(),
        OwnScope.PUBLISHING.uri());
  }

  private static void write(JsonGenerator json, String name, List<String> values)
      throws IOException {
    json.writeArrayFieldStart(name);
    for (String value : values) {
      json.writeString(value);
    }
    json.writeEndArray();
  }
}
