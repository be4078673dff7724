package indwell.adapter.token;

import static org.assertj.core.api.Assertions.assertThat;

import com.nimbusds.jose.JOSEObjectType;
import com.nimbusds.jose.JWSAlgorithm;
import com.nimbusds.jose.JWSHeader;
import com.nimbusds.jose.crypto.MACSigner;
import com.nimbusds.jose.jwk.JWK;
import com.nimbusds.jwt.JWTClaimsSet;
import com.nimbusds.jwt.PlainJWT;
import com.nimbusds.jwt.SignedJWT;
import indwell.access.Caller;
import indwell.access.Doubt;
import indwell.access.Permission;
import indwell.access.Role;
import indwell.web.access.TestIssuer;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.Base64;
import java.util.Date;
import java.util.List;
import java.util.Map;
import java.util.function.Function;
import java.util.stream.Stream;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Tokens that must not be believed, each next to one that must. Sources: RFC 8725, and the negative
 * cases that test kits for SMART Backend Services have.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class JwtTokensTest {
  private static final Instant NOW = Instant.parse("2026-03-10T12:00:00Z");
  private static final String SCOPES = "system/Procedure.rs openid";

  private TestIssuer issuer;
  private JwtTokens tokens;

  @BeforeEach
  void start() {
    issuer = new TestIssuer();
    tokens = new JwtTokens(issuer.settings(), new Discovery(issuer.settings()));
  }

  @AfterEach
  void stop() {
    issuer.close();
  }

  private JWTClaimsSet.Builder good() {
    return issuer.claims("client-7", SCOPES, NOW);
  }

  private static String signed(JWTClaimsSet.Builder claims) {
    return TestIssuer.sign(
        JWSAlgorithm.RS256, TestIssuer.rsa(), JOSEObjectType.JWT, claims.build());
  }

  private Doubt doubt(String token) {
    return tokens.look(token, NOW).caller() instanceof Caller.Nobody nobody ? nobody.doubt() : null;
  }

  @ParameterizedTest
  @ValueSource(strings = {"RS256", "RS384", "RS512", "PS256", "PS384", "PS512", "ES384"})
  void a_token_signed_by_a_key_of_the_issuer_is_believed(String algorithm) {
    JWK key = algorithm.startsWith("ES") ? TestIssuer.ec() : TestIssuer.rsa();
    String token =
        TestIssuer.sign(JWSAlgorithm.parse(algorithm), key, JOSEObjectType.JWT, good().build());

    Caller.Known caller = (Caller.Known) tokens.look(token, NOW).caller();

    assertThat(caller.client()).isEqualTo("client-7");
    assertThat(caller.user()).isEmpty();
    assertThat(caller.scopes().give("Procedure", Permission.READ)).isTrue();
    assertThat(caller.scopes().give("Procedure", Permission.CREATE)).isFalse();
  }

  @Test
  void scopes_may_be_a_list_and_roles_lie_where_it_is_said() {
    JWTClaimsSet.Builder claims =
        good()
            .subject("nurse-3")
            .claim("scope", List.of("user/Device.r", "user/Flag.s"))
            .claim("realm", Map.of("roles", List.of("nurse", "cook")));

    Caller.Known caller = (Caller.Known) tokens.look(signed(claims), NOW).caller();

    assertThat(caller.user()).contains("nurse-3");
    assertThat(caller.roles()).containsExactly(Role.NURSE);
    assertThat(caller.scopes().give("Device", Permission.READ)).isTrue();
    assertThat(caller.scopes().give("Flag", Permission.SEARCH)).isTrue();
  }

  @ParameterizedTest
  @ValueSource(strings = {"JWT", "jwt", "at+jwt", "AT+JWT"})
  void the_types_of_tokens_are_taken(String type) {
    assertThat(
            doubt(
                TestIssuer.sign(
                    JWSAlgorithm.RS256,
                    TestIssuer.rsa(),
                    new JOSEObjectType(type),
                    good().build())))
        .isNull();
  }

  /** What is changed of a good token's claims, and what that is doubted for. */
  private enum Claim {
    ANOTHER_ISSUER(Doubt.WRONG_ISSUER, claims -> claims.issuer("https://issuer.example")),
    NO_ISSUER(Doubt.WRONG_ISSUER, claims -> claims.issuer(null)),
    ANOTHER_AUDIENCE(Doubt.WRONG_AUDIENCE, claims -> claims.audience("https://other.example")),
    AUDIENCE_IN_ANOTHER_CASE(
        Doubt.WRONG_AUDIENCE, claims -> claims.audience(TestIssuer.AUDIENCE.toUpperCase())),
    NO_AUDIENCE(Doubt.WRONG_AUDIENCE, claims -> claims.audience((String) null)),
    EXPIRED(Doubt.EXPIRED, claims -> claims.expirationTime(at(-30))),
    NO_EXPIRY(Doubt.EXPIRED, claims -> claims.expirationTime(null)),
    NOT_YET(Doubt.NOT_YET, claims -> claims.notBeforeTime(at(31))),
    ISSUED_IN_THE_FUTURE(Doubt.NOT_YET, claims -> claims.issueTime(at(31))),
    NOBODYS(Doubt.NO_CLIENT, claims -> claims.subject(null).claim("client_id", null));

    private final Doubt doubt;
    private final Function<JWTClaimsSet.Builder, JWTClaimsSet.Builder> change;

    Claim(Doubt doubt, Function<JWTClaimsSet.Builder, JWTClaimsSet.Builder> change) {
      this.doubt = doubt;
      this.change = change;
    }
  }

  private static Date at(int seconds) {
    return Date.from(NOW.plusSeconds(seconds));
  }

  @ParameterizedTest
  @EnumSource(Claim.class)
  void a_claim_that_is_not_as_it_has_to_be_is_named(Claim claim) {
    assertThat(doubt(signed(claim.change.apply(good())))).isEqualTo(claim.doubt);
  }

  @Test
  void clocks_may_differ_by_half_a_minute() {
    assertThat(doubt(signed(good().expirationTime(at(-29))))).isNull();
    assertThat(doubt(signed(good().notBeforeTime(at(30)).issueTime(at(30))))).isNull();
  }

  @Test
  void one_of_several_audiences_is_enough() {
    assertThat(
            doubt(signed(good().audience(List.of("https://other.example", TestIssuer.AUDIENCE)))))
        .isNull();
  }

  static Stream<String> noTokens() {
    return Stream.of(
        "", "x", "a.b", "a.b.c", "a.b.c.d.e", "....", "null", "é.é.é", "a".repeat(9_000));
  }

  @ParameterizedTest
  @MethodSource("noTokens")
  void what_is_no_token_is_none(String text) {
    assertThat(doubt(text)).isEqualTo(Doubt.NOT_A_TOKEN);
  }

  @Test
  void a_token_without_a_signature_is_not_believed() {
    JWTClaimsSet claims = good().build();
    String none = new PlainJWT(claims).serialize();
    String[] parts = signed(good()).split("\\.");

    assertThat(doubt(none)).isEqualTo(Doubt.NOT_A_TOKEN);
    assertThat(doubt(none + "x")).isEqualTo(Doubt.NOT_A_TOKEN);
    assertThat(doubt(parts[0] + "." + parts[1] + ".")).isIn(Doubt.NOT_A_TOKEN, Doubt.BAD_SIGNATURE);
  }

  @Test
  void the_public_key_is_no_secret_to_sign_with() throws Exception {
    byte[] secret = TestIssuer.rsa().toPublicJWK().toJSONString().getBytes(StandardCharsets.UTF_8);
    SignedJWT jwt =
        new SignedJWT(
            new JWSHeader.Builder(JWSAlgorithm.HS256).keyID("rsa-1").build(), good().build());
    jwt.sign(new MACSigner(secret));

    assertThat(doubt(jwt.serialize())).isEqualTo(Doubt.WRONG_ALGORITHM);
  }

  @Test
  void a_key_of_the_same_name_is_not_the_same_key() {
    JWK other = TestIssuer.rsa("rsa-1");
    assertThat(
            doubt(TestIssuer.sign(JWSAlgorithm.RS256, other, JOSEObjectType.JWT, good().build())))
        .isEqualTo(Doubt.BAD_SIGNATURE);
  }

  @Test
  void claims_changed_after_signing_are_not_believed() {
    String[] parts = signed(good()).split("\\.");
    String more = good().claim("scope", "system/*.cruds").build().toString();
    String changed =
        parts[0]
            + "."
            + Base64.getUrlEncoder()
                .withoutPadding()
                .encodeToString(more.getBytes(StandardCharsets.UTF_8))
            + "."
            + parts[2];

    assertThat(doubt(changed)).isEqualTo(Doubt.BAD_SIGNATURE);
  }

  /** The key that a token brings along, or says where to fetch, is that of whoever made it. */
  @Test
  void a_key_that_the_token_brings_along_is_not_looked_at() throws Exception {
    JWK own = TestIssuer.rsa("own");
    JWSHeader header =
        new JWSHeader.Builder(JWSAlgorithm.RS256)
            .keyID("own")
            .jwk(own.toPublicJWK())
            .jwkURL(java.net.URI.create(issuer.url() + "/keys-of-somebody"))
            .build();
    SignedJWT jwt = new SignedJWT(header, good().build());
    jwt.sign(new com.nimbusds.jose.crypto.RSASSASigner(own.toRSAKey()));

    assertThat(doubt(jwt.serialize())).isEqualTo(Doubt.UNKNOWN_KEY);
  }

  @Test
  void another_kind_of_token_is_not_taken_for_this_one() {
    assertThat(
            doubt(
                TestIssuer.sign(
                    JWSAlgorithm.RS256,
                    TestIssuer.rsa(),
                    new JOSEObjectType("logout+jwt"),
                    good().build())))
        .isEqualTo(Doubt.WRONG_TYPE);
  }

  @Test
  void keys_are_fetched_again_for_a_new_kid_and_the_old_one_is_forgotten() {
    assertThat(doubt(signed(good()))).isNull();
    JWK next = TestIssuer.rsa("rsa-2");
    issuer.publish(next);

    assertThat(doubt(TestIssuer.sign(JWSAlgorithm.RS256, next, JOSEObjectType.JWT, good().build())))
        .isNull();
    assertThat(doubt(signed(good()))).isEqualTo(Doubt.UNKNOWN_KEY);
  }

  /** Somebody who invents kids must not make the service flood the issuer. */
  @Test
  void invented_kids_do_not_fetch_the_keys_each_time() {
    assertThat(doubt(signed(good()))).isNull();
    JWK[] invented = {TestIssuer.ec("i-0"), TestIssuer.ec("i-1"), TestIssuer.ec("i-2")};
    for (int i = 0; i < 30; i++) {
      assertThat(
              doubt(
                  TestIssuer.sign(
                      JWSAlgorithm.ES384, invented[i % 3], JOSEObjectType.JWT, good().build())))
          .isEqualTo(Doubt.UNKNOWN_KEY);
    }

    assertThat(issuer.keyRequests()).isLessThanOrEqualTo(3);
    assertThat(doubt(signed(good()))).isNull();
  }

  @Test
  void while_the_issuer_is_away_nobody_is_known_and_afterwards_they_are() {
    issuer.away(true);
    assertThat(doubt(signed(good()))).isEqualTo(Doubt.ISSUER_AWAY);

    issuer.away(false);
    assertThat(doubt(signed(good()))).isNull();
  }

  @Test
  void an_issuer_that_names_itself_otherwise_is_not_asked_for_keys() {
    IssuerSettings settings = issuer.settings();
    IssuerSettings slash =
        new IssuerSettings(
            settings.issuer() + "/", settings.audiences(), settings.keys(), List.of("roles"));

    assertThat(new JwtTokens(slash, new Discovery(slash)).look(signed(good()), NOW).caller())
        .isEqualTo(new Caller.Nobody(Doubt.ISSUER_AWAY));
  }
}
