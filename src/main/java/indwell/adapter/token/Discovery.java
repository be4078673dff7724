package indwell.adapter.token;

import com.nimbusds.jose.util.JSONObjectUtils;
import indwell.access.Issuer;
import java.io.IOException;
import java.io.InputStream;
import java.lang.System.Logger;
import java.lang.System.Logger.Level;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpClient.Redirect;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.charset.StandardCharsets;
import java.text.ParseException;
import java.time.Duration;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;

/**
 * Asks the issuer once where its endpoints are; while it does not answer, once more with each
 * question.
 *
 * <p>Source: OpenID Connect Discovery 1.0, section 4
 */
public final class Discovery implements Issuer {
  private static final Logger LOG = System.getLogger(Discovery.class.getName());
  private static final Duration PATIENCE = Duration.ofSeconds(5);
  private static final int MOST_BYTES = 256 * 1024;

  private final IssuerSettings settings;
  private final HttpClient client =
      HttpClient.newBuilder().connectTimeout(PATIENCE).followRedirects(Redirect.NEVER).build();
  private volatile @Nullable Endpoints found;

  public Discovery(IssuerSettings settings) {
    this.settings = settings;
  }

  @Override
  public Optional<Endpoints> endpoints() {
    Endpoints known = found;
    if (known != null) {
      return Optional.of(known);
    }
    return ask();
  }

  /** One at a time; whoever waited finds what the one before found. */
  private synchronized Optional<Endpoints> ask() {
    if (found == null) {
      try {
        found = fetch();
      } catch (IOException | ParseException | IllegalArgumentException away) {
        LOG.log(
            Level.WARNING, "The issuer cannot be asked where its endpoints are: {0}", name(away));
      } catch (InterruptedException e) {
        Thread.currentThread().interrupt();
      }
    }
    return Optional.ofNullable(found);
  }

  private static String name(Exception fault) {
    return fault.getClass().getSimpleName();
  }

  private Endpoints fetch() throws IOException, ParseException, InterruptedException {
    String issuer = settings.issuer();
    String base = issuer.endsWith("/") ? issuer.substring(0, issuer.length() - 1) : issuer;
    HttpRequest request =
        HttpRequest.newBuilder(URI.create(base + "/.well-known/openid-configuration"))
            .timeout(PATIENCE)
            .header("Accept", "application/json")
            .build();
    HttpResponse<InputStream> answer = client.send(request, BodyHandlers.ofInputStream());
    try (InputStream body = answer.body()) {
      byte[] bytes = body.readNBytes(MOST_BYTES);
      if (answer.statusCode() != 200) {
        throw new IOException("Status " + answer.statusCode());
      }
      return read(JSONObjectUtils.parse(new String(bytes, StandardCharsets.UTF_8)));
    }
  }

  /** An issuer that says it is another one is not believed (section 4.3). */
  private Endpoints read(Map<String, Object> metadata) throws ParseException {
    if (!settings.issuer().equals(JSONObjectUtils.getString(metadata, "issuer"))) {
      throw new ParseException("The issuer names itself otherwise", 0);
    }
    String keys = settings.keys().orElse(JSONObjectUtils.getString(metadata, "jwks_uri"));
    String token = JSONObjectUtils.getString(metadata, "token_endpoint");
    if (keys == null || token == null) {
      throw new ParseException("The issuer names no keys or no token endpoint", 0);
    }
    return new Endpoints(
        settings.issuer(),
        Optional.ofNullable(JSONObjectUtils.getString(metadata, "authorization_endpoint")),
        token,
        keys);
  }
}
