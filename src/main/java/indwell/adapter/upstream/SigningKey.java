package indwell.adapter.upstream;

import com.nimbusds.jose.JOSEException;
import com.nimbusds.jose.JOSEObjectType;
import com.nimbusds.jose.JWSAlgorithm;
import com.nimbusds.jose.JWSHeader;
import com.nimbusds.jose.JWSSigner;
import com.nimbusds.jose.crypto.ECDSASigner;
import com.nimbusds.jose.crypto.RSASSASigner;
import com.nimbusds.jose.jwk.Curve;
import com.nimbusds.jose.jwk.ECKey;
import com.nimbusds.jose.jwk.JWK;
import com.nimbusds.jose.jwk.JWKSet;
import com.nimbusds.jose.jwk.RSAKey;
import com.nimbusds.jwt.JWTClaimsSet;
import com.nimbusds.jwt.SignedJWT;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.text.ParseException;
import java.util.Optional;

/** Our private key: RSA signs RS384, a key on P-384 signs ES384. */
public final class SigningKey {
  private static final int FEWEST_RSA_BITS = 2048;

  private final JWSAlgorithm algorithm;
  private final JWSSigner signer;
  private final Optional<String> id;

  private SigningKey(JWSAlgorithm algorithm, JWSSigner signer, Optional<String> id) {
    this.algorithm = algorithm;
    this.signer = signer;
    this.id = id;
  }

  /**
   * Reads the first private key of a JWK, or of a set of them (RFC 7517).
   *
   * @throws IllegalArgumentException if there is none that can be used; nothing of the file is said
   */
  public static SigningKey read(Path file) {
    try {
      String text = Files.readString(file);
      return set(text).getKeys().stream()
          .filter(JWK::isPrivate)
          .findFirst()
          .map(SigningKey::of)
          .orElseThrow(() -> unusable(file));
    } catch (IOException | ParseException unreadable) {
      throw unusable(file);
    }
  }

  private static JWKSet set(String text) throws ParseException {
    return text.contains("\"keys\"") ? JWKSet.parse(text) : new JWKSet(JWK.parse(text));
  }

  private static SigningKey of(JWK key) {
    Optional<String> id = Optional.ofNullable(key.getKeyID());
    try {
      if (key instanceof RSAKey rsa && rsa.size() >= FEWEST_RSA_BITS) {
        return new SigningKey(JWSAlgorithm.RS384, new RSASSASigner(rsa), id);
      }
      if (key instanceof ECKey ec && ec.getCurve().equals(Curve.P_384)) {
        return new SigningKey(JWSAlgorithm.ES384, new ECDSASigner(ec), id);
      }
    } catch (JOSEException unusable) {
      // Said below.
    }
    throw new IllegalArgumentException(
        "The key to sign with is of a kind that is not used; expected RSA of 2048 bits or more, or"
            + " EC on P-384.");
  }

  private static IllegalArgumentException unusable(Path file) {
    return new IllegalArgumentException(
        "File " + file + " holds no key to sign with; expected a private key as JWK (RFC 7517).");
  }

  /** The claims as a signed JWT. */
  String sign(JWTClaimsSet claims) {
    JWSHeader.Builder header = new JWSHeader.Builder(algorithm).type(JOSEObjectType.JWT);
    id.ifPresent(header::keyID);
    SignedJWT jwt = new SignedJWT(header.build(), claims);
    try {
      jwt.sign(signer);
    } catch (JOSEException e) {
      throw new IllegalStateException("The key does not sign.", e);
    }
    return jwt.serialize();
  }
}
