package indwell.access;

/** Why it is not known who asks; a sentence never says more than this, and never the token. */
public enum Doubt {
  NO_TOKEN("there is none", "an Authorization header with a bearer token of the issuer"),
  TWO_TOKENS("there is more than one", "one Authorization header"),
  NOT_A_TOKEN("it is no signed JWT", "a JWT in compact form, signed"),
  WRONG_ALGORITHM(
      "its algorithm is not taken",
      "RS256, RS384, RS512, PS256, PS384, PS512, ES256, ES384 or ES512"),
  WRONG_TYPE("its header says that it is something else", "typ JWT or at+jwt, or none"),
  UNKNOWN_KEY("no key of the issuer has its kid", "a kid among the keys of the issuer"),
  BAD_SIGNATURE("its signature does not hold", "a signature by a key of the issuer"),
  WRONG_ISSUER("its iss is another one", "the issuer that is configured"),
  WRONG_AUDIENCE("its aud does not name this service", "the audience that is configured"),
  EXPIRED("it has expired", "an exp ahead"),
  NOT_YET("it is not good yet", "an nbf and an iat that are not ahead"),
  NO_CLIENT("it says nowhere who has it", "a client_id, azp or sub"),
  /** Nobody's fault out there. */
  ISSUER_AWAY("the keys of the issuer cannot be fetched", "the request again later");

  private final String what;
  private final String expected;

  Doubt(String what, String expected) {
    this.what = what;
    this.expected = expected;
  }

  /** What is wrong, as the end of a sentence about the token. */
  public String what() {
    return what;
  }

  /** What was expected. */
  public String expected() {
    return expected;
  }
}
