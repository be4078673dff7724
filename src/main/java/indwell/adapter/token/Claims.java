package indwell.adapter.token;

import com.nimbusds.jwt.JWTClaimsSet;
import indwell.access.Caller;
import indwell.access.Doubt;
import indwell.access.Role;
import indwell.access.Scopes;
import indwell.access.Tokens.Holder;
import java.time.Duration;
import java.time.Instant;
import java.util.Arrays;
import java.util.Collection;
import java.util.Date;
import java.util.HashSet;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;

/** Reads what a believed token claims. */
final class Claims {
  /** Clocks differ. */
  static final Duration SKEW = Duration.ofSeconds(30);

  private final IssuerSettings settings;

  Claims(IssuerSettings settings) {
    this.settings = settings;
  }

  Holder read(JWTClaimsSet claims, Instant now) {
    if (!settings.issuer().equals(claims.getIssuer())) {
      return JwtTokens.nobody(Doubt.WRONG_ISSUER);
    }
    if (claims.getAudience().stream().noneMatch(settings.audiences()::contains)) {
      return JwtTokens.nobody(Doubt.WRONG_AUDIENCE);
    }
    Optional<Instant> expires = time(claims.getExpirationTime());
    if (expires.filter(at -> now.isBefore(at.plus(SKEW))).isEmpty()) {
      return JwtTokens.nobody(Doubt.EXPIRED);
    }
    boolean ahead =
        Stream.of(time(claims.getNotBeforeTime()), time(claims.getIssueTime()))
            .flatMap(Optional::stream)
            .anyMatch(at -> at.isAfter(now.plus(SKEW)));
    return ahead ? JwtTokens.nobody(Doubt.NOT_YET) : holder(claims, expires.get().plus(SKEW));
  }

  private Holder holder(JWTClaimsSet claims, Instant until) {
    Optional<String> subject = Optional.ofNullable(claims.getSubject());
    Optional<String> client =
        text(claims, "client_id").or(() -> text(claims, "azp")).or(() -> subject);
    if (client.isEmpty()) {
      return JwtTokens.nobody(Doubt.NO_CLIENT);
    }
    return new Holder(
        new Caller.Known(
            settings.issuer(),
            client.get(),
            subject.filter(one -> !one.equals(client.get())),
            Scopes.of(
                words(claims.getClaim("scope")).collect(Collectors.joining(" "))
                    + " "
                    + words(claims.getClaim("scp")).collect(Collectors.joining(" "))),
            roles(claims)),
        until);
  }

  private Set<Role> roles(JWTClaimsSet claims) {
    @Nullable Object at = claims.getClaims();
    for (String name : settings.rolesClaim()) {
      at = at instanceof Map<?, ?> map ? map.get(name) : null;
    }
    Set<Role> roles = new HashSet<>();
    words(at).map(Role::of).flatMap(Optional::stream).forEach(roles::add);
    return roles;
  }

  /** A list of words, or a text with spaces between them. */
  private static Stream<String> words(@Nullable Object claim) {
    if (claim instanceof Collection<?> list) {
      return list.stream().filter(Objects::nonNull).map(Object::toString);
    }
    return claim instanceof String text ? Arrays.stream(text.split(" ", -1)) : Stream.of();
  }

  private static Optional<String> text(JWTClaimsSet claims, String name) {
    return claims.getClaim(name) instanceof String text && !text.isBlank()
        ? Optional.of(text)
        : Optional.empty();
  }

  private static Optional<Instant> time(@Nullable Date at) {
    return Optional.ofNullable(at).map(Date::toInstant);
  }
}
