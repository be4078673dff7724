package indwell.adapter.token;

import com.nimbusds.jose.KeySourceException;
import com.nimbusds.jose.RemoteKeySourceException;
import com.nimbusds.jose.jwk.JWK;
import com.nimbusds.jose.jwk.JWKSelector;
import com.nimbusds.jose.jwk.source.JWKSource;
import com.nimbusds.jose.jwk.source.JWKSourceBuilder;
import com.nimbusds.jose.proc.SecurityContext;
import com.nimbusds.jose.util.DefaultResourceRetriever;
import indwell.access.Issuer;
import indwell.access.Issuer.Endpoints;
import java.net.MalformedURLException;
import java.net.URI;
import java.time.Duration;
import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;

/**
 * The keys of the issuer: fetched when they are first needed, kept for five minutes, fetched anew
 * for a {@code kid} that is not among them, though not at the pace of whoever invents ones, and
 * believed for an hour more while the issuer is away.
 */
final class IssuerKeys implements JWKSource<SecurityContext> {
  private static final int PATIENCE_MILLIS = 5_000;
  private static final int MOST_BYTES = 512 * 1024;
  private static final Duration OUTAGE = Duration.ofHours(1);

  private final Optional<String> configured;
  private final Issuer issuer;
  private volatile @Nullable JWKSource<SecurityContext> source;

  /**
   * @param configured their address, if it is not to be asked of the issuer
   */
  IssuerKeys(Optional<String> configured, Issuer issuer) {
    this.configured = configured;
    this.issuer = issuer;
  }

  @Override
  public List<JWK> get(JWKSelector selector, @Nullable SecurityContext context)
      throws KeySourceException {
    return source().get(selector, context);
  }

  private JWKSource<SecurityContext> source() throws KeySourceException {
    JWKSource<SecurityContext> made = source;
    if (made == null) {
      made = make();
      source = made;
    }
    return made;
  }

  private JWKSource<SecurityContext> make() throws KeySourceException {
    String address =
        configured
            .or(() -> issuer.endpoints().map(Endpoints::keys))
            .orElseThrow(
                () ->
                    new RemoteKeySourceException(
                        "The issuer does not say where its keys are", null));
    try {
      return JWKSourceBuilder.create(
              URI.create(address).toURL(),
              new DefaultResourceRetriever(PATIENCE_MILLIS, PATIENCE_MILLIS, MOST_BYTES))
          .retrying(true)
          .outageTolerant(OUTAGE.toMillis())
          .build();
    } catch (MalformedURLException | IllegalArgumentException unreadable) {
      throw new RemoteKeySourceException("The address of the keys cannot be read", unreadable);
    }
  }
}
