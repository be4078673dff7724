package indwell.boot;

import indwell.adapter.upstream.BearerFile;
import indwell.adapter.upstream.Credentials;
import indwell.adapter.upstream.HapiUpstream;
import indwell.adapter.upstream.SigningKey;
import indwell.adapter.upstream.SmartBackend;
import indwell.adapter.upstream.TokenEndpoint;
import indwell.adapter.upstream.UpstreamAddress;
import indwell.port.ClinicalStore;
import indwell.port.Outbox;
import indwell.port.trace.Tracing;
import indwell.usecase.publish.Backoff;
import indwell.usecase.publish.Pace;
import indwell.usecase.publish.Publisher;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Duration;
import java.util.Optional;
import java.util.Random;
import java.util.UUID;

/** Turns the configuration into what publishes. */
public final class PublishSettings {
  private static final Duration FIRST_WAIT = Duration.ofSeconds(1);
  private static final int MOST_PARALLEL = 64;

  private final IndwellConfig.Publish config;
  private final Clock clock;

  public PublishSettings(IndwellConfig.Publish config, Clock clock) {
    this.config = config;
    this.clock = clock;
  }

  /**
   * Another server by its settings; empty when none is named. Asks for nothing yet.
   *
   * @throws IllegalArgumentException if a setting cannot be used; the sentence names it
   */
  public Optional<HapiUpstream> upstream() {
    require(
        config.parallel() >= 1 && config.parallel() <= MOST_PARALLEL,
        "INDWELL_PUBLISH_PARALLEL",
        "1 to " + MOST_PARALLEL);
    require(positive(config.timeout()), "INDWELL_PUBLISH_TIMEOUT", "a duration above 0");
    require(positive(config.longestPause()), "INDWELL_PUBLISH_LONGEST_PAUSE", "a duration above 0");
    return config
        .url()
        .map(url -> UpstreamAddress.of(url, "INDWELL_PUBLISH_URL"))
        .map(
            address ->
                new HapiUpstream(
                    address, credentials(address), config.timeout(), config.parallel(), clock));
  }

  private static void require(boolean holds, String setting, String expected) {
    if (!holds) {
      throw new IllegalArgumentException(setting + " cannot be used; expected " + expected + ".");
    }
  }

  private static boolean positive(Duration duration) {
    return !duration.isNegative() && !duration.isZero();
  }

  /** Where everything goes, and under whose ids: when either changes, all is sent anew. */
  public String target() {
    return config
        .url()
        .map(url -> UpstreamAddress.of(url, "INDWELL_PUBLISH_URL"))
        .map(UpstreamAddress::toString)
        .orElse("");
  }

  /** What publishes the record; nothing runs yet. */
  Publisher publisher(ClinicalStore store, Outbox outbox, HapiUpstream upstream, Tracing tracing) {
    Random chance = new Random();
    return new Publisher(
        store,
        outbox,
        upstream,
        config.ids(),
        Pace.of(
            config.parallel(),
            config.timeout(),
            new Backoff(FIRST_WAIT, config.longestPause(), chance::nextDouble)),
        clock,
        config.ids() + " " + target(),
        UUID.randomUUID().toString(),
        tracing);
  }

  private Credentials credentials(UpstreamAddress address) {
    require(
        config.bearerFile().isEmpty() || config.clientId().isEmpty(),
        "INDWELL_PUBLISH_BEARER_FILE",
        "either it or INDWELL_PUBLISH_CLIENT_ID");
    require(
        config.clientId().isPresent() == config.keyFile().isPresent(),
        "INDWELL_PUBLISH_KEY_FILE",
        "it and INDWELL_PUBLISH_CLIENT_ID together");
    if (config.clientId().isPresent()) {
      return smart(address, config.clientId().orElseThrow(), config.keyFile().orElseThrow());
    }
    return config
        .bearerFile()
        .<Credentials>map(file -> new BearerFile(Path.of(file)))
        .orElseGet(Credentials::none);
  }

  private SmartBackend smart(UpstreamAddress address, String clientId, String keyFile) {
    return new SmartBackend(
        new SmartBackend.Registration(clientId, config.scope(), SigningKey.read(Path.of(keyFile))),
        new TokenEndpoint(
            address,
            config.tokenUrl().map(url -> UpstreamAddress.of(url, "INDWELL_PUBLISH_TOKEN_URL")),
            config.timeout(),
            clock),
        clock,
        () -> UUID.randomUUID().toString());
  }
}
