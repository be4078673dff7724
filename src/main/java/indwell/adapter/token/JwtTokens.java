package indwell.adapter.token;

import com.nimbusds.jose.Algorithm;
import com.nimbusds.jose.JOSEException;
import com.nimbusds.jose.JOSEObjectType;
import com.nimbusds.jose.JWSAlgorithm;
import com.nimbusds.jose.KeySourceException;
import com.nimbusds.jose.jwk.source.JWKSource;
import com.nimbusds.jose.jwk.source.RateLimitReachedException;
import com.nimbusds.jose.proc.BadJOSEException;
import com.nimbusds.jose.proc.DefaultJOSEObjectTypeVerifier;
import com.nimbusds.jose.proc.JWSVerificationKeySelector;
import com.nimbusds.jose.proc.SecurityContext;
import com.nimbusds.jwt.JWTClaimsSet;
import com.nimbusds.jwt.SignedJWT;
import com.nimbusds.jwt.proc.DefaultJWTProcessor;
import indwell.access.Caller;
import indwell.access.Doubt;
import indwell.access.Issuer;
import indwell.access.Tokens.Holder;
import java.security.Key;
import java.text.ParseException;
import java.time.Instant;
import java.util.List;
import java.util.Set;

/**
 * Reads bearer tokens of one issuer. The signature is looked at before any claim is; symmetric
 * algorithms and none at all are never taken.
 *
 * <p>Source: RFC 7519; RFC 8725 (best current practices); RFC 9068 (access tokens)
 */
public final class JwtTokens {
  private static final Set<JWSAlgorithm> ALGORITHMS =
      Set.of(
          JWSAlgorithm.RS256,
          JWSAlgorithm.RS384,
          JWSAlgorithm.RS512,
          JWSAlgorithm.PS256,
          JWSAlgorithm.PS384,
          JWSAlgorithm.PS512,
          JWSAlgorithm.ES256,
          JWSAlgorithm.ES384,
          JWSAlgorithm.ES512);

  private static final DefaultJOSEObjectTypeVerifier<SecurityContext> TYPES =
      new DefaultJOSEObjectTypeVerifier<>(JOSEObjectType.JWT, new JOSEObjectType("at+jwt"), null);

  private final Claims claims;
  private final JWSVerificationKeySelector<SecurityContext> selector;
  private final DefaultJWTProcessor<SecurityContext> processor = new DefaultJWTProcessor<>();

  public JwtTokens(IssuerSettings settings, Issuer issuer) {
    this(settings, new IssuerKeys(settings.keys(), issuer));
  }

  JwtTokens(IssuerSettings settings, JWKSource<SecurityContext> keys) {
    claims = new Claims(settings);
    selector = new JWSVerificationKeySelector<>(ALGORITHMS, keys);
    processor.setJWSKeySelector(selector);
    processor.setJWSTypeVerifier(TYPES);
    // Claims are looked at here, so that the doubt can be named.
    processor.setJWTClaimsSetVerifier(null);
  }

  /** Who has the token at that time, and until when it is good. */
  public Holder look(String token, Instant now) {
    SignedJWT jwt;
    try {
      jwt = SignedJWT.parse(token);
    } catch (ParseException | IllegalArgumentException unreadable) {
      return nobody(Doubt.NOT_A_TOKEN);
    }
    Algorithm algorithm = jwt.getHeader().getAlgorithm();
    if (!(algorithm instanceof JWSAlgorithm signing) || !ALGORITHMS.contains(signing)) {
      return nobody(Doubt.WRONG_ALGORITHM);
    }
    try {
      TYPES.verify(jwt.getHeader().getType(), null);
    } catch (BadJOSEException other) {
      return nobody(Doubt.WRONG_TYPE);
    }
    return signed(jwt, now);
  }

  private Holder signed(SignedJWT jwt, Instant now) {
    try {
      List<? extends Key> keys = selector.selectJWSKeys(jwt.getHeader(), null);
      if (keys.isEmpty()) {
        return nobody(Doubt.UNKNOWN_KEY);
      }
      JWTClaimsSet believed = processor.process(jwt, null);
      return claims.read(believed, now);
    } catch (RateLimitReachedException invented) {
      return nobody(Doubt.UNKNOWN_KEY);
    } catch (KeySourceException away) {
      return nobody(Doubt.ISSUER_AWAY);
    } catch (BadJOSEException | JOSEException forged) {
      return nobody(Doubt.BAD_SIGNATURE);
    }
  }

  static Holder nobody(Doubt doubt) {
    return new Holder(new Caller.Nobody(doubt), Instant.MIN);
  }
}
