package indwell.architecture.planted.usecase;

import com.nimbusds.jwt.JWTClaimsSet;

/** Breaks a rule on purpose: a use case that reads tokens. */
public final class KnowsTokens {
  private KnowsTokens() {}

  public static String subject(JWTClaimsSet claims) {
    return claims.getSubject();
  }
}
