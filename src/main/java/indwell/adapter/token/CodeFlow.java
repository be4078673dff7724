package indwell.adapter.token;

import com.nimbusds.jose.util.Base64URL;
import com.nimbusds.jose.util.JSONObjectUtils;
import com.nimbusds.jwt.JWTClaimsSet;
import com.nimbusds.jwt.SignedJWT;
import indwell.access.Caller;
import indwell.access.Issuer;
import indwell.access.Logins;
import indwell.access.Scopes;
import java.io.IOException;
import java.io.InputStream;
import java.lang.System.Logger;
import java.lang.System.Logger.Level;
import java.net.URI;
import java.net.URLEncoder;
import java.net.http.HttpClient;
import java.net.http.HttpClient.Redirect;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.text.ParseException;
import java.time.Duration;
import java.time.Instant;
import java.util.Base64;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;

/**
 * Logins by the authorization code flow with PKCE. The ID token is looked at as every other token
 * is, with this service's client id as its audience, and has to have the nonce of the attempt.
 *
 * <p>Source: OpenID Connect Core 1.0, sections 3.1 and 3.1.3.7; RFC 7636; RFC 9700
 */
public final class CodeFlow implements Logins {
  private static final Logger LOG = System.getLogger(CodeFlow.class.getName());
  private static final Duration PATIENCE = Duration.ofSeconds(5);
  private static final int MOST_BYTES = 256 * 1024;

  private final LoginSettings settings;
  private final Issuer issuer;
  private final JwtTokens tokens;
  private final HttpClient client =
      HttpClient.newBuilder().connectTimeout(PATIENCE).followRedirects(Redirect.NEVER).build();

  public CodeFlow(LoginSettings settings, IssuerSettings believed, Issuer issuer) {
    this.settings = settings;
    this.issuer = issuer;
    this.tokens =
        new JwtTokens(
            new IssuerSettings(
                believed.issuer(),
                Set.of(settings.clientId()),
                believed.keys(),
                believed.rolesClaim()),
            issuer);
  }

  @Override
  public Optional<String> address(Attempt attempt, String redirect) {
    Map<String, String> asked = new LinkedHashMap<>();
    asked.put("response_type", "code");
    asked.put("client_id", settings.clientId());
    asked.put("redirect_uri", redirect);
    asked.put("scope", settings.scope());
    asked.put("state", attempt.state());
    asked.put("nonce", attempt.nonce());
    asked.put("code_challenge", challenge(attempt.verifier()));
    asked.put("code_challenge_method", "S256");
    return issuer
        .endpoints()
        .flatMap(Issuer.Endpoints::authorization)
        .map(page -> page + (page.contains("?") ? "&" : "?") + form(asked));
  }

  private static String challenge(String verifier) {
    try {
      byte[] digest =
          MessageDigest.getInstance("SHA-256").digest(verifier.getBytes(StandardCharsets.US_ASCII));
      return Base64URL.encode(digest).toString();
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException("Every Java platform has SHA-256", e);
    }
  }

  private static String form(Map<String, String> fields) {
    return fields.entrySet().stream()
        .map(one -> one.getKey() + "=" + encoded(one.getValue()))
        .collect(Collectors.joining("&"));
  }

  private static String encoded(String text) {
    return URLEncoder.encode(text, StandardCharsets.UTF_8);
  }

  @Override
  public Optional<Caller.Known> finish(String code, Attempt attempt, String redirect, Instant now) {
    try {
      Optional<Issuer.Endpoints> endpoints = issuer.endpoints();
      return endpoints.isEmpty()
          ? Optional.empty()
          : person(idToken(endpoints.get(), code, attempt, redirect), attempt, now);
    } catch (IOException | ParseException | IllegalArgumentException failed) {
      LOG.log(
          Level.WARNING, "A login failed at the issuer: {0}", failed.getClass().getSimpleName());
      return Optional.empty();
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      return Optional.empty();
    }
  }

  private String idToken(Issuer.Endpoints endpoints, String code, Attempt attempt, String redirect)
      throws IOException, ParseException, InterruptedException {
    Map<String, String> asked = new LinkedHashMap<>();
    asked.put("grant_type", "authorization_code");
    asked.put("code", code);
    asked.put("redirect_uri", redirect);
    asked.put("client_id", settings.clientId());
    asked.put("code_verifier", attempt.verifier());
    HttpRequest.Builder request =
        HttpRequest.newBuilder(URI.create(endpoints.token()))
            .timeout(PATIENCE)
            .header("Content-Type", "application/x-www-form-urlencoded")
            .header("Accept", "application/json")
            .POST(BodyPublishers.ofString(form(asked)));
    settings.secret().ifPresent(secret -> request.header("Authorization", basic(secret)));
    HttpResponse<InputStream> answer = client.send(request.build(), BodyHandlers.ofInputStream());
    try (InputStream body = answer.body()) {
      byte[] bytes = body.readNBytes(MOST_BYTES);
      if (answer.statusCode() != 200) {
        throw new IOException("Status " + answer.statusCode());
      }
      String token =
          JSONObjectUtils.getString(
              JSONObjectUtils.parse(new String(bytes, StandardCharsets.UTF_8)), "id_token");
      if (token == null) {
        throw new ParseException("The issuer gave no ID token", 0);
      }
      return token;
    }
  }

  /** RFC 6749, section 2.3.1: both parts are encoded before they are joined. */
  private String basic(String secret) {
    String pair = encoded(settings.clientId()) + ":" + encoded(secret);
    return "Basic " + Base64.getEncoder().encodeToString(pair.getBytes(StandardCharsets.US_ASCII));
  }

  private Optional<Caller.Known> person(String idToken, Attempt attempt, Instant now)
      throws ParseException {
    if (!(tokens.look(idToken, now).caller() instanceof Caller.Known known)) {
      return Optional.empty();
    }
    JWTClaimsSet claims = SignedJWT.parse(idToken).getJWTClaimsSet();
    boolean ours = attempt.nonce().equals(claims.getStringClaim("nonce"));
    return Optional.ofNullable(claims.getSubject())
        .filter(subject -> ours && !subject.isBlank())
        .map(
            subject ->
                new Caller.Known(
                    known.issuer(),
                    settings.clientId(),
                    Optional.of(subject),
                    Scopes.NONE,
                    known.roles()));
  }
}
