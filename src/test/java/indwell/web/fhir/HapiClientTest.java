package indwell.web.fhir;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import ca.uhn.fhir.rest.client.api.IGenericClient;
import ca.uhn.fhir.rest.gclient.DateClientParam;
import ca.uhn.fhir.rest.gclient.ReferenceClientParam;
import ca.uhn.fhir.rest.gclient.TokenClientParam;
import ca.uhn.fhir.rest.server.exceptions.InvalidRequestException;
import ca.uhn.fhir.rest.server.exceptions.NotModifiedException;
import ca.uhn.fhir.rest.server.exceptions.ResourceNotFoundException;
import indwell.fhir.map.FhirJson;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import org.hl7.fhir.r4.model.Bundle;
import org.hl7.fhir.r4.model.CapabilityStatement;
import org.hl7.fhir.r4.model.Device;
import org.hl7.fhir.r4.model.Flag;
import org.hl7.fhir.r4.model.Observation;
import org.hl7.fhir.r4.model.OperationOutcome;
import org.hl7.fhir.r4.model.Patient;
import org.hl7.fhir.r4.model.Procedure;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** A client that others wrote (HAPI's generic client) reads, searches, pages and goes back. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class HapiClientTest {
  private FhirServer server;
  private IGenericClient client;

  @BeforeEach
  void start() throws Exception {
    server = new FhirServer();
    server.recordStay();
    for (int i = 0; i < 5; i++) {
      server.record(
          FhirServer.event(
              "w" + i, "weight-measured", "2026-03-0" + (2 + i) + "T10:00:00Z", "\"kg\":7" + i));
    }
    client = FhirJson.context().newRestfulGenericClient(server.base());
  }

  @AfterEach
  void stop() throws Exception {
    server.close();
  }

  private Device device() {
    return (Device) search(Device.class).getEntryFirstRep().getResource();
  }

  private Bundle search(Class<? extends org.hl7.fhir.r4.model.Resource> type) {
    return client.search().forResource(type).returnBundle(Bundle.class).execute();
  }

  @Test
  void it_reads_the_statement_of_what_works() {
    CapabilityStatement statement =
        client.capabilities().ofType(CapabilityStatement.class).execute();
    assertThat(statement.getFhirVersion().toCode()).isEqualTo("4.0.1");
  }

  @Test
  void it_reads_a_resource_a_version_and_a_history() {
    Device device = device();
    String id = device.getIdElement().getIdPart();
    assertThat(client.read().resource(Device.class).withId(id).execute().getStatus())
        .isEqualTo(device.getStatus());
    assertThat(
            client
                .read()
                .resource(Device.class)
                .withIdAndVersion(id, "1")
                .execute()
                .getMeta()
                .getVersionId())
        .isEqualTo("1");
    Bundle history =
        client.history().onInstance("Device/" + id).returnBundle(Bundle.class).execute();
    assertThat(history.getType()).isEqualTo(Bundle.BundleType.HISTORY);
    assertThat(history.getEntryFirstRep().getRequest().getMethod()).isEqualTo(Bundle.HTTPVerb.PUT);
    Bundle ofType = client.history().onType(Device.class).returnBundle(Bundle.class).execute();
    assertThat(ofType.getTotal()).isEqualTo(1);
    Bundle ofAll = client.history().onServer().returnBundle(Bundle.class).count(2).execute();
    assertThat(ofAll.getEntry()).hasSize(2);
    assertThat(client.loadPage().next(ofAll).execute().getEntry()).hasSize(2);
  }

  @Test
  void it_keeps_what_has_not_changed() {
    Device device = device();
    assertThatThrownBy(
            () ->
                client
                    .read()
                    .resource(Device.class)
                    .withId(device.getIdElement().getIdPart())
                    .ifVersionMatches("1")
                    .throwNotModifiedException()
                    .execute())
        .isInstanceOf(NotModifiedException.class);
  }

  @Test
  void it_searches_by_every_kind_of_parameter() {
    String patient =
        client
            .search()
            .forResource(Patient.class)
            .where(new TokenClientParam("identifier").exactly().systemAndCode("urn:test:mrn", "p1"))
            .returnBundle(Bundle.class)
            .execute()
            .getEntryFirstRep()
            .getResource()
            .getIdElement()
            .getIdPart();
    Bundle found =
        client
            .search()
            .forResource(Procedure.class)
            .where(
                new TokenClientParam("code")
                    .exactly()
                    .systemAndCode("http://snomed.info/sct", "410024004"))
            .and(new ReferenceClientParam("patient").hasId(patient))
            .and(new DateClientParam("date").afterOrEquals().day("2026-03-01"))
            .and(new DateClientParam("date").before().day("2026-03-02"))
            .include(Procedure.INCLUDE_ENCOUNTER)
            .include(Procedure.INCLUDE_PATIENT)
            .returnBundle(Bundle.class)
            .execute();
    assertThat(found.getTotal()).isEqualTo(1);
    assertThat(found.getEntry()).hasSize(3);
    Bundle chained =
        client
            .search()
            .forResource(Observation.class)
            .where(
                new ReferenceClientParam("patient")
                    .hasChainedProperty(new TokenClientParam("identifier").exactly().code("p1")))
            .usingStyle(ca.uhn.fhir.rest.api.SearchStyleEnum.POST)
            .returnBundle(Bundle.class)
            .execute();
    assertThat(chained.getTotal()).isEqualTo(6);
  }

  @Test
  void it_pages_through_a_sorted_search() {
    Bundle page =
        client
            .search()
            .forResource(Observation.class)
            .sort()
            .descending("date")
            .count(4)
            .returnBundle(Bundle.class)
            .execute();
    Set<String> seen = new HashSet<>();
    int entries = 0;
    while (true) {
      for (Bundle.BundleEntryComponent entry : page.getEntry()) {
        seen.add(entry.getResource().getIdElement().getIdPart());
        entries++;
      }
      if (page.getLink(Bundle.LINK_NEXT) == null) {
        break;
      }
      page = client.loadPage().next(page).execute();
    }
    assertThat(seen).hasSize(6);
    assertThat(entries).isEqualTo(6);
  }

  @Test
  void it_reads_and_searches_flags() {
    List<Flag> flags =
        client
            .search()
            .forResource(Flag.class)
            .where(new TokenClientParam("status").exactly().code("active"))
            .returnBundle(Bundle.class)
            .execute()
            .getEntry()
            .stream()
            .map(entry -> (Flag) entry.getResource())
            .toList();
    assertThat(flags).isNotEmpty();
    Flag read =
        client
            .read()
            .resource(Flag.class)
            .withId(flags.get(0).getIdElement().getIdPart())
            .execute();
    assertThat(read.getCode().getCodingFirstRep().getCode())
        .isEqualTo(flags.get(0).getCode().getCodingFirstRep().getCode());
  }

  @Test
  void it_is_told_what_was_wrong() {
    assertThatThrownBy(() -> client.read().resource(Device.class).withId("none").execute())
        .isInstanceOf(ResourceNotFoundException.class);
    assertThatThrownBy(
            () -> client.search().byUrl("Device?colour=red").returnBundle(Bundle.class).execute())
        .isInstanceOfSatisfying(
            InvalidRequestException.class,
            refused ->
                assertThat(
                        ((OperationOutcome) refused.getOperationOutcome())
                            .getIssueFirstRep()
                            .getDiagnostics())
                    .contains("colour"));
  }
}
