package indwell.blackbox;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.junit.jupiter.api.DynamicTest.dynamicTest;

import ca.uhn.fhir.context.FhirContext;
import ca.uhn.fhir.rest.api.MethodOutcome;
import ca.uhn.fhir.rest.client.api.IGenericClient;
import ca.uhn.fhir.rest.client.api.ServerValidationModeEnum;
import ca.uhn.fhir.rest.server.exceptions.PreconditionFailedException;
import ca.uhn.fhir.rest.server.exceptions.ResourceNotFoundException;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import org.hl7.fhir.r4.model.Bundle;
import org.hl7.fhir.r4.model.Bundle.BundleEntryComponent;
import org.hl7.fhir.r4.model.Bundle.BundleType;
import org.hl7.fhir.r4.model.CapabilityStatement;
import org.hl7.fhir.r4.model.CapabilityStatement.CapabilityStatementRestComponent;
import org.hl7.fhir.r4.model.CapabilityStatement.CapabilityStatementRestResourceComponent;
import org.hl7.fhir.r4.model.DateType;
import org.hl7.fhir.r4.model.IdType;
import org.hl7.fhir.r4.model.ListResource;
import org.hl7.fhir.r4.model.MeasureReport;
import org.hl7.fhir.r4.model.Observation;
import org.hl7.fhir.r4.model.OperationOutcome;
import org.hl7.fhir.r4.model.Parameters;
import org.hl7.fhir.r4.model.Quantity;
import org.hl7.fhir.r4.model.Resource;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.TestFactory;
import org.junit.jupiter.api.io.TempDir;

/**
 * HAPI's generic client goes through every interaction and operation that the running service
 * lists. What is listed and has no step here fails.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class HapiClientIT {
  private static final String WARD = "J-WARD";
  private static final FhirContext FHIR = FhirContext.forR4Cached();

  @TempDir Path data;
  private int made;

  /** One thing that is listed, and what came of doing it. */
  private record Step(String name, List<AssertionError> faults) {}

  @TestFactory
  Stream<DynamicTest> everything_listed_works_for_it() throws Exception {
    List<Step> steps = new ArrayList<>();
    try (RunningService service =
        RunningService.start(Map.of("INDWELL_DATA_DIR", data.toString()))) {
      service.post(
          "/events",
          "application/json",
          Files.readAllBytes(Path.of("src/test/javascript/events.json")));
      FHIR.getRestfulClientFactory().setServerValidationMode(ServerValidationModeEnum.NEVER);
      FHIR.getRestfulClientFactory().setSocketTimeout(60_000);
      walk(FHIR.newRestfulGenericClient(service.uri("/fhir").toString()), steps);
    }
    assertThat(steps).hasSizeGreaterThan(60);
    return steps.stream().map(step -> dynamicTest(step.name(), () -> settle(step)));
  }

  private static void settle(Step step) {
    step.faults()
        .forEach(
            fault -> {
              throw fault;
            });
  }

  private void walk(IGenericClient client, List<Step> steps) {
    CapabilityStatementRestComponent rest =
        client.capabilities().ofType(CapabilityStatement.class).execute().getRestFirstRep();
    rest.getInteraction()
        .forEach(one -> attempt(steps, one.getCode().toCode(), code -> system(client, code)));
    rest.getOperation()
        .forEach(one -> attempt(steps, "$" + one.getName(), name -> operation(client, "", name)));
    for (CapabilityStatementRestResourceComponent listed : rest.getResource()) {
      String type = listed.getType();
      listed
          .getInteraction()
          .forEach(
              one ->
                  attempt(
                      steps,
                      type + " " + one.getCode().toCode(),
                      name -> interaction(client, type, one.getCode().toCode())));
      listed
          .getOperation()
          .forEach(
              one ->
                  attempt(
                      steps,
                      type + " $" + one.getName(),
                      name -> operation(client, type, "$" + one.getName())));
    }
  }

  private interface Walk {
    void go(String name);
  }

  private static void attempt(List<Step> steps, String name, Walk walk) {
    try {
      walk.go(name);
      steps.add(new Step(name, List.of()));
    } catch (RuntimeException | AssertionError fault) {
      steps.add(new Step(name, List.of(new AssertionError(name + ": " + fault, fault))));
    }
  }

  private void system(IGenericClient client, String code) {
    switch (code) {
      case "transaction" -> transaction(client);
      case "batch" -> batch(client);
      case "history-system" -> {
        Bundle page = client.history().onServer().returnBundle(Bundle.class).count(5).execute();
        Bundle next = client.loadPage().next(page).execute();
        assertThat(ids(page)).hasSize(5).doesNotContainAnyElementsOf(ids(next));
      }
      default -> throw noStep(code);
    }
  }

  private static AssertionError noStep(String name) {
    return new AssertionError("is listed, and there is no step for it: " + name);
  }

  private static List<String> ids(Bundle page) {
    return page.getEntry().stream().map(one -> one.getResource().getId()).toList();
  }

  private static void transaction(IGenericClient client) {
    Bundle sent = (Bundle) FHIR.newJsonParser().parseResource(transactionJson());
    Bundle first = client.transaction().withBundle(sent).execute();
    assertThat(statuses(first)).containsExactly("201", "201", "201", "201", "201", "201", "200");
    Bundle again = client.transaction().withBundle(sent).execute();
    assertThat(statuses(again)).hasSize(7).containsOnly("200");
    assertThat(again.getEntry().get(3).getResponse().getLocation())
        .isEqualTo(first.getEntry().get(3).getResponse().getLocation());
  }

  private static List<String> statuses(Bundle answer) {
    return answer.getEntry().stream()
        .map(one -> one.getResponse().getStatus().substring(0, 3))
        .toList();
  }

  private static String transactionJson() {
    try {
      return Files.readString(Path.of("docs/api/transaction-insertion.json"));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private void batch(IGenericClient client) {
    Bundle batch = new Bundle().setType(BundleType.BATCH);
    batch.addEntry().getRequest().setMethod(Bundle.HTTPVerb.GET).setUrl("Device/nobody");
    batch
        .addEntry()
        .setResource(weight(client))
        .getRequest()
        .setMethod(Bundle.HTTPVerb.POST)
        .setUrl("Observation");
    Bundle answer = client.transaction().withBundle(batch).execute();
    assertThat(statuses(answer)).containsExactly("404", "201");
  }

  private void interaction(IGenericClient client, String type, String code) {
    Resource known = any(client, type);
    IdType id = known.getIdElement().toUnqualifiedVersionless();
    switch (code) {
      case "read" -> {
        assertThat(client.read().resource(type).withId(id.getIdPart()).execute().getIdElement())
            .satisfies(read -> assertThat(read.getIdPart()).isEqualTo(id.getIdPart()));
        assertThatThrownBy(() -> client.read().resource(type).withId("nobody").execute())
            .isInstanceOf(ResourceNotFoundException.class);
      }
      case "vread" ->
          assertThat(
                  client
                      .read()
                      .resource(type)
                      .withIdAndVersion(id.getIdPart(), "1")
                      .execute()
                      .getMeta()
                      .getVersionId())
              .isEqualTo("1");
      case "search-type" ->
          assertThat(
                  ids(
                      client
                          .search()
                          .byUrl(type + "?_id=" + id.getIdPart())
                          .returnBundle(Bundle.class)
                          .execute()))
              .hasSize(1);
      case "history-instance" ->
          assertThat(
                  client.history().onInstance(id).returnBundle(Bundle.class).execute().getEntry())
              .isNotEmpty();
      case "history-type" ->
          assertThat(
                  client
                      .history()
                      .onType(known.getClass())
                      .returnBundle(Bundle.class)
                      .execute()
                      .getEntry())
              .isNotEmpty();
      case "create" -> create(client, known);
      case "update" -> update(client, known);
      case "delete" -> delete(client, known);
      default -> throw noStep(type + " " + code);
    }
  }

  private static Resource any(IGenericClient client, String type) {
    BundleEntryComponent first =
        client
            .search()
            .byUrl(type + "?_count=1")
            .returnBundle(Bundle.class)
            .execute()
            .getEntryFirstRep();
    assertThat(first.hasResource()).as("there is a " + type + " to walk with").isTrue();
    return first.getResource();
  }

  private void create(IGenericClient client, Resource known) {
    if (!(known instanceof Observation)) {
      Resource again = known.copy();
      again.setId((String) null);
      assertThat(client.create().resource(again).execute().getResponseStatusCode()).isEqualTo(200);
      return;
    }
    Observation weight = weight(client);
    String condition =
        "Observation?identifier="
            + weight.getIdentifierFirstRep().getSystem()
            + "|"
            + weight.getIdentifierFirstRep().getValue();
    MethodOutcome first = client.create().resource(weight).conditionalByUrl(condition).execute();
    MethodOutcome again = client.create().resource(weight).conditionalByUrl(condition).execute();
    assertThat(first.getResponseStatusCode()).isEqualTo(201);
    assertThat(again.getResponseStatusCode()).isEqualTo(200);
    assertThat(again.getId().getIdPart()).isEqualTo(first.getId().getIdPart());
  }

  private void update(IGenericClient client, Resource known) {
    if (!(known instanceof Observation)) {
      assertThat(client.update().resource(known).execute().getResponseStatusCode()).isEqualTo(200);
      return;
    }
    Observation weight = weight(client);
    IdType id = (IdType) client.create().resource(weight).execute().getId();
    Observation changed = weight.copy();
    changed.getValueQuantity().setValue(99.5);
    changed.setId(id.withVersion("1"));
    client.update().resource(changed).execute();
    assertThatThrownBy(() -> client.update().resource(changed).execute())
        .isInstanceOf(PreconditionFailedException.class);
  }

  private void delete(IGenericClient client, Resource known) {
    IdType id =
        known instanceof Observation
            ? (IdType) client.create().resource(weight(client)).execute().getId()
            : new IdType(known.fhirType(), "nobody");
    client.delete().resourceById(id.toUnqualifiedVersionless()).execute();
    if (known instanceof Observation) {
      Observation gone = client.read().resource(Observation.class).withId(id.getIdPart()).execute();
      assertThat(gone.getStatus().toCode()).isEqualTo("entered-in-error");
    }
  }

  /** A body weight that nobody has sent yet. */
  private Observation weight(IGenericClient client) {
    Bundle found =
        client
            .search()
            .byUrl("Observation?code=29463-7&status=final")
            .returnBundle(Bundle.class)
            .execute();
    Observation weight = ((Observation) found.getEntryFirstRep().getResource()).copy();
    made++;
    weight.setId((String) null);
    weight.setMeta(null);
    weight.getIdentifierFirstRep().setValue("hapi-client:weight-" + made);
    weight.setValue(((Quantity) weight.getValue().copy()).setValue(60 + made));
    return weight;
  }

  private void operation(IGenericClient client, String type, String name) {
    switch (name) {
      case "$validate" -> validate(client, type);
      case "$export" -> {
        MethodOutcome begun = ask(client, type, name, new Parameters());
        assertThat(begun.getResponseStatusCode()).isEqualTo(202);
        assertThat(begun.getResponseHeaders()).containsKey("content-location");
      }
      case "$device-days" ->
          assertThat(answered(client, type, name, span("2024-10-01", "2024-10-31")))
              .isInstanceOfSatisfying(
                  Bundle.class, bundle -> assertThat(bundle.getEntry()).hasSizeGreaterThan(1));
      case "$unit-report" ->
          assertThat(answered(client, type, name, span("2024-10", "2024-10")))
              .isInstanceOf(Parameters.class);
      case "$overdue" ->
          assertThat(answered(client, type, name, new Parameters())).isInstanceOf(Bundle.class);
      case "$catheter-days" ->
          assertThat(answered(client, type, name, new Parameters())).isInstanceOf(Parameters.class);
      default -> throw noStep(type + " " + name);
    }
  }

  private static Parameters span(String start, String end) {
    Parameters asked = new Parameters();
    asked.addParameter().setName("start").setValue(new DateType(start));
    asked.addParameter().setName("end").setValue(new DateType(end));
    return asked;
  }

  private static Resource answered(
      IGenericClient client, String type, String name, Parameters asked) {
    return (Resource) ask(client, type, name, asked).getResource();
  }

  private static MethodOutcome ask(
      IGenericClient client, String type, String name, Parameters asked) {
    if (type.isEmpty()) {
      return client
          .operation()
          .onServer()
          .named(name)
          .withParameters(asked)
          .returnMethodOutcome()
          .execute();
    }
    boolean onType = name.equals("$export") && type.equals("Patient");
    IdType id =
        new IdType(
            type, type.equals("Patient") ? any(client, type).getIdElement().getIdPart() : WARD);
    return (onType
            ? client.operation().onType(type).named(name)
            : client.operation().onInstance(id).named(name))
        .withParameters(asked)
        .returnMethodOutcome()
        .execute();
  }

  private static void validate(IGenericClient client, String type) {
    // Neither can be read: they are parts of the answers of an operation.
    Map<String, Resource> lacking =
        Map.of(
            "MeasureReport", new MeasureReport().setType(MeasureReport.MeasureReportType.SUMMARY),
            "List", new ListResource().setTitle("Nobody"));
    Resource asked = lacking.containsKey(type) ? lacking.get(type) : any(client, type);
    OperationOutcome outcome =
        (OperationOutcome) client.validate().resource(asked).execute().getOperationOutcome();
    assertThat(outcome.getIssue())
        .anyMatch(
            one ->
                (one.getSeverity() == OperationOutcome.IssueSeverity.ERROR)
                    == lacking.containsKey(type));
  }
}
