package indwell.adapter.token;

import java.util.Optional;

/**
 * How this service is known to the issuer for logins.
 *
 * @param secret empty for a public client
 * @param scope what is asked for, {@code openid} among it
 */
public record LoginSettings(String clientId, Optional<String> secret, String scope) {}
