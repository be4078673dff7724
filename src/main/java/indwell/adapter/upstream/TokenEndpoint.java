package indwell.adapter.upstream;

import com.nimbusds.jose.util.JSONObjectUtils;
import indwell.port.UpstreamAnswer;
import indwell.port.UpstreamAnswer.Kind;
import java.io.IOException;
import java.net.URI;
import java.net.URLEncoder;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.text.ParseException;
import java.time.Clock;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;

/** Where tokens are given: as configured, or as the FHIR server says of itself. */
public final class TokenEndpoint {
  private static final String DISCOVERY = "/.well-known/smart-configuration";

  private final UpstreamAddress server;
  private final Optional<UpstreamAddress> configured;
  private final Duration patience;
  private final Clock clock;
  private final HttpClient http;

  /**
   * Asks for nothing yet.
   *
   * @param configured where tokens are given; empty to ask the server
   */
  public TokenEndpoint(
      UpstreamAddress server,
      Optional<UpstreamAddress> configured,
      Duration patience,
      Clock clock) {
    this.server = server;
    this.configured = configured;
    this.patience = patience;
    this.clock = clock;
    this.http =
        HttpClient.newBuilder()
            .followRedirects(HttpClient.Redirect.NEVER)
            .connectTimeout(patience)
            .version(HttpClient.Version.HTTP_1_1)
            .build();
  }

  /**
   * Where to ask for a token. A server may name another one, which whoever configures has to
   * confirm: what proves who we are is not sent where a document of a moment says.
   */
  URI address() {
    return configured.map(UpstreamAddress::base).orElseGet(this::discovered);
  }

  private URI discovered() {
    URI document = URI.create(server + DISCOVERY);
    Map<String, Object> found =
        json(
            "GET",
            document,
            HttpRequest.newBuilder(document).header("Accept", "application/json").GET());
    if (found.get("token_endpoint") instanceof String text) {
      try {
        URI address = URI.create(text);
        if (server.sameOrigin(address)) {
          return address;
        }
      } catch (IllegalArgumentException unreadable) {
        throw none("token-endpoint-unreadable");
      }
      throw none("token-endpoint-at-another-server");
    }
    throw none("no-token-endpoint");
  }

  private static TokenUnavailable none(String code) {
    return new TokenUnavailable(UpstreamAnswer.without(Kind.UNAUTHORISED, 200, code));
  }

  /** Sends a form and reads the object that comes back. */
  Map<String, Object> post(URI address, Map<String, String> form) {
    String body =
        form.entrySet().stream()
            .map(field -> field.getKey() + "=" + encoded(field.getValue()))
            .collect(Collectors.joining("&"));
    return json(
        "POST",
        address,
        HttpRequest.newBuilder(address)
            .header("Accept", "application/json")
            .header("Content-Type", "application/x-www-form-urlencoded")
            .POST(HttpRequest.BodyPublishers.ofString(body)));
  }

  private Map<String, Object> json(String method, URI address, HttpRequest.Builder request) {
    CallSpan span = new CallSpan(address, address.getPath());
    span.begin(method).forEach(request::header);
    int status = 0;
    try {
      HttpResponse<String> response =
          http.send(
              request.timeout(patience).build(),
              HttpResponse.BodyHandlers.ofString(StandardCharsets.UTF_8));
      status = response.statusCode();
      if (status != 200) {
        throw new TokenUnavailable(refusal(response));
      }
      return JSONObjectUtils.parse(response.body());
    } catch (ParseException unreadable) {
      throw new TokenUnavailable(UpstreamAnswer.without(Kind.NOT_FHIR, 200, "token-unreadable"));
    } catch (IOException away) {
      throw new TokenUnavailable(UpstreamAnswer.without(Kind.UNKNOWN, 0, "token-server-away"));
    } catch (InterruptedException stopped) {
      Thread.currentThread().interrupt();
      throw new TokenUnavailable(UpstreamAnswer.without(Kind.UNKNOWN, 0, "interrupted"));
    } finally {
      span.end(status);
    }
  }

  /** Errors are those of RFC 6749, section 5.2. */
  private UpstreamAnswer refusal(HttpResponse<String> response) {
    int status = response.statusCode();
    Kind kind =
        switch (status / 100) {
          case 3 -> Kind.REDIRECTED;
          case 5 -> status == 503 ? Kind.BUSY : Kind.UNKNOWN;
          default -> status == 429 ? Kind.BUSY : Kind.UNAUTHORISED;
        };
    return new UpstreamAnswer(
        kind,
        status,
        List.of("token-" + error(response.body())),
        RetryAfter.of(
            response.headers().firstValue("Retry-After"),
            response.headers().firstValue("Date"),
            clock),
        Set.of(),
        "",
        "",
        Optional.empty());
  }

  private static String error(String body) {
    try {
      return SafeCode.of(JSONObjectUtils.parse(body).get("error")).orElse("refused");
    } catch (ParseException unreadable) {
      return "refused";
    }
  }

  private static String encoded(String text) {
    return URLEncoder.encode(text, StandardCharsets.UTF_8);
  }
}
