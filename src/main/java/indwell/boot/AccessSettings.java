package indwell.boot;

import indwell.access.Allowance;
import indwell.access.RememberingTokens;
import indwell.access.Sessions;
import indwell.adapter.token.CodeFlow;
import indwell.adapter.token.Discovery;
import indwell.adapter.token.IssuerSettings;
import indwell.adapter.token.JwtTokens;
import indwell.adapter.token.LoginSettings;
import indwell.web.access.AccessMode;
import indwell.web.access.AccessMode.People;
import java.net.InetAddress;
import java.net.URI;
import java.net.UnknownHostException;
import java.security.SecureRandom;
import java.util.Base64;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/** Turns the configuration into the way callers are asked who they are, or refuses to start. */
final class AccessSettings {
  private static final SecureRandom CHANCE = new SecureRandom();

  private AccessSettings() {}

  /**
   * The mode; development mode without an issuer.
   *
   * @throws IllegalArgumentException naming the setting that is missing or cannot be used
   */
  static AccessMode of(IndwellConfig config) {
    Optional<String> issuer = config.issuer();
    if (issuer.isEmpty()) {
      requireNothingElse(config);
      return new AccessMode.Development();
    }
    Set<String> audiences = Set.copyOf(config.audience().orElse(List.of()));
    if (audiences.isEmpty()) {
      throw new IllegalArgumentException(
          "Setting indwell.audience is missing; an issuer needs it, or tokens for other services"
              + " would be good for this one.");
    }
    requireSecure("indwell.issuer", issuer.get());
    config.jwksUrl().ifPresent(url -> requireSecure("indwell.jwks-url", url));
    IssuerSettings settings =
        new IssuerSettings(
            issuer.get(),
            audiences,
            config.jwksUrl(),
            List.of(config.rolesClaim().split("\\.", -1)));
    Discovery discovery = new Discovery(settings);
    return new AccessMode.Guarded(
        new RememberingTokens(new JwtTokens(settings, discovery)::look),
        discovery,
        new Allowance(config.requests().most(), config.requests().within()),
        people(config.login(), settings, discovery));
  }

  private static Optional<People> people(
      IndwellConfig.Login login, IssuerSettings issuer, Discovery discovery) {
    login.publicUrl().ifPresent(url -> requireSecure("indwell.login.public-url", url));
    return login
        .clientId()
        .map(
            client ->
                new People(
                    new CodeFlow(
                        new LoginSettings(client, login.clientSecret(), login.scope()),
                        issuer,
                        discovery),
                    new Sessions(AccessSettings::fresh, login.keep()),
                    login.publicUrl()));
  }

  /** 256 bits, so that nobody guesses them; long enough for a PKCE verifier as well. */
  private static String fresh() {
    byte[] bytes = new byte[32];
    CHANCE.nextBytes(bytes);
    return Base64.getUrlEncoder().withoutPadding().encodeToString(bytes);
  }

  /** Somebody who sets half of it believes that the service is guarded. */
  private static void requireNothingElse(IndwellConfig config) {
    if (config.audience().isPresent()
        || config.jwksUrl().isPresent()
        || config.login().clientId().isPresent()) {
      throw new IllegalArgumentException(
          "Setting indwell.issuer is missing; indwell.audience, indwell.jwks-url and"
              + " indwell.login.client-id need it.");
    }
  }

  /** Keys that come over an open line can be exchanged on their way. */
  private static void requireSecure(String setting, String url) {
    URI address;
    try {
      address = URI.create(url);
    } catch (IllegalArgumentException unreadable) {
      throw new IllegalArgumentException(
          "Setting " + setting + " is " + url + "; expected an https URL.", unreadable);
    }
    boolean secure = "https".equalsIgnoreCase(address.getScheme());
    boolean here = "http".equalsIgnoreCase(address.getScheme()) && isLoopback(address.getHost());
    if (address.getHost() == null || !(secure || here)) {
      throw new IllegalArgumentException(
          "Setting "
              + setting
              + " is "
              + url
              + "; expected an https URL, or http on this machine for a trial.");
    }
  }

  private static boolean isLoopback(String host) {
    try {
      return host != null && InetAddress.getByName(host).isLoopbackAddress();
    } catch (UnknownHostException unknown) {
      return false;
    }
  }
}
