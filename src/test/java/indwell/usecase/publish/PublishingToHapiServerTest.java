package indwell.usecase.publish;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import ca.uhn.fhir.rest.client.apache.ApacheRestfulClientFactory;
import ca.uhn.fhir.rest.client.api.IGenericClient;
import ca.uhn.fhir.rest.client.api.ServerValidationModeEnum;
import indwell.adapter.store.memory.MemoryStore;
import indwell.adapter.upstream.Credentials;
import indwell.adapter.upstream.HapiUpstream;
import indwell.adapter.upstream.UpstreamAddress;
import indwell.fhir.map.FhirJson;
import indwell.fhir.publish.Outgoing;
import indwell.port.StoredResource;
import indwell.port.trace.NoTracing;
import indwell.usecase.RandomBodies;
import java.time.Clock;
import java.time.Duration;
import java.util.List;
import org.hl7.fhir.r4.model.Bundle;
import org.hl7.fhir.r4.model.Resource;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** Against a server that others wrote: HAPI's RestfulServer with its provider in memory. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class PublishingToHapiServerTest {

  @Test
  void the_server_of_others_ends_with_what_the_store_has() throws Exception {
    try (Bench bench = new Bench(new MemoryStore(), Addressing.OURS);
        HapiServer server = new HapiServer();
        HapiUpstream upstream =
            new HapiUpstream(
                UpstreamAddress.of(server.base(), "the test"),
                Credentials.none(),
                Duration.ofSeconds(10),
                3,
                Clock.systemUTC());
        Publisher publisher =
            new Publisher(
                bench.store,
                bench.outbox(),
                upstream,
                Addressing.OURS,
                Bench.pace(5),
                Clock.systemUTC(),
                server.base(),
                "test",
                NoTracing.OFF)) {
      List<String> bodies = new RandomBodies(51).bodies();
      bench.record(bodies.subList(0, bodies.size() / 2));
      publisher.start();
      await().atMost(Duration.ofSeconds(60)).until(bench::drained);
      bench.record(bodies.subList(bodies.size() / 2, bodies.size()));
      await().atMost(Duration.ofSeconds(60)).until(bench::drained);

      ApacheRestfulClientFactory clients = new ApacheRestfulClientFactory(FhirJson.context());
      clients.setServerValidationMode(ServerValidationModeEnum.NEVER);
      IGenericClient client = clients.newGenericClient(server.base());
      List<StoredResource> stored = bench.stored();
      assertThat(stored).hasSizeGreaterThan(20);
      for (StoredResource one : stored) {
        Resource there =
            (Resource) client.read().resource(one.key().type()).withId(one.key().id()).execute();
        assertThat(Outgoing.sameContent(Outgoing.of(one.json()), there))
            .as(one.key().reference())
            .isTrue();
      }
      for (String type : stored.stream().map(one -> one.key().type()).distinct().toList()) {
        long here = stored.stream().filter(one -> one.key().type().equals(type)).count();
        Bundle all =
            client.search().forResource(type).count(10_000).returnBundle(Bundle.class).execute();
        assertThat(all.getTotal()).as(type).isEqualTo((int) here);
      }
    }
  }
}
