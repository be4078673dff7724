package indwell.adapter.upstream;

import com.nimbusds.jwt.JWTClaimsSet;
import indwell.port.UpstreamAnswer;
import indwell.port.UpstreamAnswer.Kind;
import java.net.URI;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.Date;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.function.Supplier;

/**
 * A client of SMART Backend Services: proves by its key who it is and is given a token for a short
 * time.
 *
 * <p>Source: SMART App Launch 2.2.0, backend-services and client-confidential-asymmetric; the
 * assertion lives four minutes of the five that it may.
 */
public final class SmartBackend implements Credentials {
  private static final Duration ASSERTION_LIFE = Duration.ofMinutes(4);

  /** A token is not used in its last seconds: it would end on its way. */
  private static final Duration MARGIN = Duration.ofSeconds(15);

  /** For a server that does not say; the guide has it say at most five minutes. */
  private static final long SECONDS_WHEN_UNSAID = 60;

  /** What the client is registered with. */
  public record Registration(String clientId, String scope, SigningKey key) {}

  private final Registration registration;
  private final TokenEndpoint endpoint;
  private final Clock clock;
  private final Supplier<String> ids;

  private Optional<Token> token = Optional.empty();

  private record Token(String value, Instant until) {
    String header() {
      return "Bearer " + value;
    }
  }

  /**
   * Asks for nothing yet.
   *
   * @param ids makes a new name for each assertion
   */
  public SmartBackend(
      Registration registration, TokenEndpoint endpoint, Clock clock, Supplier<String> ids) {
    this.registration = registration;
    this.endpoint = endpoint;
    this.clock = clock;
    this.ids = ids;
  }

  @Override
  public synchronized Optional<String> authorization() {
    Instant now = clock.instant();
    if (token.filter(one -> one.until().isAfter(now)).isEmpty()) {
      token = Optional.empty();
      token = Optional.of(fetch(now));
    }
    return token.map(Token::header);
  }

  /** Several requests may be refused with the same token; one of them has it fetched anew. */
  @Override
  public synchronized boolean renew(String refused) {
    token = token.filter(one -> !one.header().equals(refused));
    return true;
  }

  private Token fetch(Instant now) {
    URI address = endpoint.address();
    Map<String, String> form = new LinkedHashMap<>();
    form.put("grant_type", "client_credentials");
    form.put("scope", registration.scope());
    form.put("client_assertion_type", "urn:ietf:params:oauth:client-assertion-type:jwt-bearer");
    form.put("client_assertion", assertion(address, now));
    Map<String, Object> answer = endpoint.post(address, form);
    Object value = answer.get("access_token");
    if (!(value instanceof String text) || !BearerText.usable(text)) {
      throw new TokenUnavailable(UpstreamAnswer.without(Kind.NOT_FHIR, 200, "no-access-token"));
    }
    long seconds =
        answer.get("expires_in") instanceof Number number
            ? number.longValue()
            : SECONDS_WHEN_UNSAID;
    Duration life = Duration.ofSeconds(Math.max(0, Math.min(seconds, 86_400)));
    Duration used =
        life.compareTo(MARGIN.multipliedBy(2)) > 0 ? life.minus(MARGIN) : life.dividedBy(2);
    return new Token(text, now.plus(used));
  }

  private String assertion(URI audience, Instant now) {
    return registration
        .key()
        .sign(
            new JWTClaimsSet.Builder()
                .issuer(registration.clientId())
                .subject(registration.clientId())
                .audience(audience.toString())
                .jwtID(ids.get())
                .issueTime(Date.from(now))
                .expirationTime(Date.from(now.plus(ASSERTION_LIFE)))
                .build());
  }
}
