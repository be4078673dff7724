package indwell.web.access;

import com.nimbusds.jose.JOSEException;
import com.nimbusds.jose.JOSEObjectType;
import com.nimbusds.jose.JWSAlgorithm;
import com.nimbusds.jose.JWSHeader;
import com.nimbusds.jose.JWSSigner;
import com.nimbusds.jose.crypto.factories.DefaultJWSSignerFactory;
import com.nimbusds.jose.jwk.Curve;
import com.nimbusds.jose.jwk.JWK;
import com.nimbusds.jose.jwk.JWKSet;
import com.nimbusds.jose.jwk.KeyUse;
import com.nimbusds.jose.jwk.gen.ECKeyGenerator;
import com.nimbusds.jose.jwk.gen.RSAKeyGenerator;
import com.nimbusds.jwt.JWTClaimsSet;
import com.nimbusds.jwt.SignedJWT;
import com.sun.net.httpserver.HttpExchange;
import com.sun.net.httpserver.HttpServer;
import indwell.access.Allowance;
import indwell.access.RememberingTokens;
import indwell.access.Sessions;
import indwell.adapter.token.CodeFlow;
import indwell.adapter.token.Discovery;
import indwell.adapter.token.IssuerSettings;
import indwell.adapter.token.JwtTokens;
import indwell.adapter.token.LoginSettings;
import indwell.web.access.AccessMode.People;
import java.io.IOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.URLDecoder;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import java.util.Date;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.function.Function;
import java.util.function.Supplier;

/** An issuer on this machine: it signs tokens and says where its keys are. */
public final class TestIssuer implements AutoCloseable {
  public static final String AUDIENCE = "https://indwell.test/fhir";

  private static final JWK RSA = rsa("rsa-1");
  private static final JWK EC = ec("ec-1");

  private final HttpServer server;
  private volatile List<JWK> published = List.of(RSA, EC);
  private volatile boolean away;
  private int keyRequests;
  private Allowance allowance = new Allowance(1_000_000, Duration.ofSeconds(10));
  private volatile Function<Map<String, String>, JWTClaimsSet> vouching =
      form -> new JWTClaimsSet.Builder().build();

  public TestIssuer() {
    try {
      server = HttpServer.create(new InetSocketAddress(InetAddress.getLoopbackAddress(), 0), 0);
    } catch (IOException e) {
      throw new IllegalStateException(e);
    }
    serve("/.well-known/openid-configuration", this::metadata);
    serve(
        "/keys",
        () -> {
          keyRequests++;
          return new JWKSet(published).toString();
        });
    server.createContext("/token", this::token);
    server.start();
  }

  private void serve(String path, Supplier<String> body) {
    server.createContext(
        path,
        exchange -> {
          byte[] bytes = away ? new byte[0] : body.get().getBytes(StandardCharsets.UTF_8);
          exchange.getResponseHeaders().add("Content-Type", "application/json");
          exchange.sendResponseHeaders(away ? 503 : 200, bytes.length == 0 ? -1 : bytes.length);
          exchange.getResponseBody().write(bytes);
          exchange.close();
        });
  }

  private String metadata() {
    return ("{\"issuer\":\"%1$s\",\"jwks_uri\":\"%1$s/keys\",\"token_endpoint\":\"%1$s/token\","
            + "\"authorization_endpoint\":\"%1$s/authorize\"}")
        .formatted(url());
  }

  public String url() {
    return "http://127.0.0.1:" + server.getAddress().getPort();
  }

  /** Answers nothing but 503 from now on, or answers again. */
  public void away(boolean isAway) {
    away = isAway;
  }

  public int keyRequests() {
    return keyRequests;
  }

  /** Its keys are those from now on. */
  public void publish(JWK... keys) {
    published = List.of(keys);
  }

  public static JWK rsa() {
    return RSA;
  }

  public static JWK ec() {
    return EC;
  }

  public static JWK rsa(String kid) {
    try {
      return new RSAKeyGenerator(2048).keyID(kid).keyUse(KeyUse.SIGNATURE).generate();
    } catch (JOSEException e) {
      throw new IllegalStateException(e);
    }
  }

  public static JWK ec(String kid) {
    try {
      return new ECKeyGenerator(Curve.P_384).keyID(kid).keyUse(KeyUse.SIGNATURE).generate();
    } catch (JOSEException e) {
      throw new IllegalStateException(e);
    }
  }

  /** Claims of a client, good for five minutes from then. */
  public JWTClaimsSet.Builder claims(String client, String scopes, Instant now) {
    return new JWTClaimsSet.Builder()
        .issuer(url())
        .audience(AUDIENCE)
        .subject(client)
        .claim("client_id", client)
        .claim("scope", scopes)
        .issueTime(Date.from(now))
        .expirationTime(Date.from(now.plusSeconds(300)));
  }

  /** A token of that client with those scopes. */
  public String token(String client, String scopes, Instant now) {
    return sign(JWSAlgorithm.RS256, RSA, JOSEObjectType.JWT, claims(client, scopes, now).build());
  }

  public static String sign(
      JWSAlgorithm algorithm, JWK key, JOSEObjectType type, JWTClaimsSet claims) {
    try {
      JWSHeader header = new JWSHeader.Builder(algorithm).keyID(key.getKeyID()).type(type).build();
      JWSSigner signer = new DefaultJWSSignerFactory().createJWSSigner(key, algorithm);
      SignedJWT jwt = new SignedJWT(header, claims);
      jwt.sign(signer);
      return jwt.serialize();
    } catch (JOSEException e) {
      throw new IllegalStateException(e);
    }
  }

  public IssuerSettings settings() {
    return new IssuerSettings(url(), Set.of(AUDIENCE), Optional.empty(), List.of("realm", "roles"));
  }

  /** The mode of a service that believes it. */
  public AccessMode.Guarded mode() {
    Discovery discovery = new Discovery(settings());
    return new AccessMode.Guarded(
        new RememberingTokens(new JwtTokens(settings(), discovery)::look),
        discovery,
        allowance,
        Optional.of(
            new People(
                new CodeFlow(
                    new LoginSettings("ward-pages", Optional.of("a secret"), "openid"),
                    settings(),
                    discovery),
                new Sessions(
                    () -> UUID.randomUUID() + "-" + UUID.randomUUID(), Duration.ofHours(8)),
                Optional.empty())));
  }

  /** The mode with so many requests for each client. */
  public AccessMode.Guarded mode(int most) {
    allowance = new Allowance(most, Duration.ofSeconds(10));
    return mode();
  }

  /**
   * What is answered to whoever comes with a code: claims of the ID token, by the request's form.
   */
  public void vouch(Function<Map<String, String>, JWTClaimsSet> claims) {
    vouching = claims;
  }

  private void token(HttpExchange exchange) throws IOException {
    Map<String, String> form = new HashMap<>();
    for (String pair :
        new String(exchange.getRequestBody().readAllBytes(), StandardCharsets.UTF_8).split("&")) {
      int sign = pair.indexOf('=');
      form.put(
          pair.substring(0, sign),
          URLDecoder.decode(pair.substring(sign + 1), StandardCharsets.UTF_8));
    }
    form.put("authorization", exchange.getRequestHeaders().getFirst("Authorization"));
    String token = sign(JWSAlgorithm.RS256, RSA, JOSEObjectType.JWT, vouching.apply(form));
    byte[] bytes =
        ("{\"access_token\":\"x\",\"token_type\":\"Bearer\",\"id_token\":\"" + token + "\"}")
            .getBytes(StandardCharsets.UTF_8);
    exchange.sendResponseHeaders(200, bytes.length);
    exchange.getResponseBody().write(bytes);
    exchange.close();
  }

  @Override
  public void close() {
    server.stop(0);
  }
}
