package indwell.web.fhir;

import indwell.fhir.search.SearchParameter;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.Map;
import java.util.SortedSet;
import java.util.TreeMap;
import java.util.TreeSet;
import org.hl7.fhir.r4.model.CapabilityStatement;
import org.hl7.fhir.r4.model.CapabilityStatement.CapabilityStatementKind;
import org.hl7.fhir.r4.model.CapabilityStatement.CapabilityStatementRestComponent;
import org.hl7.fhir.r4.model.CapabilityStatement.CapabilityStatementRestResourceComponent;
import org.hl7.fhir.r4.model.CapabilityStatement.CapabilityStatementRestResourceOperationComponent;
import org.hl7.fhir.r4.model.CapabilityStatement.CapabilityStatementRestResourceSearchParamComponent;
import org.hl7.fhir.r4.model.CapabilityStatement.ConditionalDeleteStatus;
import org.hl7.fhir.r4.model.CapabilityStatement.ConditionalReadStatus;
import org.hl7.fhir.r4.model.CapabilityStatement.ReferenceHandlingPolicy;
import org.hl7.fhir.r4.model.CapabilityStatement.ResourceVersionPolicy;
import org.hl7.fhir.r4.model.CapabilityStatement.RestfulCapabilityMode;
import org.hl7.fhir.r4.model.CapabilityStatement.SystemRestfulInteraction;
import org.hl7.fhir.r4.model.CapabilityStatement.TypeRestfulInteraction;
import org.hl7.fhir.r4.model.DateTimeType;
import org.hl7.fhir.r4.model.Enumerations.FHIRVersion;
import org.hl7.fhir.r4.model.Enumerations.PublicationStatus;
import org.hl7.fhir.r4.model.Enumerations.SearchParamType;

/** Collects what works, each interaction for itself, and makes a CapabilityStatement of it. */
final class Capabilities {
  private static final String SUBJECT = "Indwelling urinary catheters: events, days and flags";

  private static final String SAFETY =
      "Indwell supports, and never replaces, clinical judgement; local policy and licensed practice"
          + " decide. What it points out is a candidate for review by a person, never a diagnosis.";

  private final CapabilityStatementRestComponent rest = new CapabilityStatementRestComponent();
  private final Map<String, CapabilityStatementRestResourceComponent> resources = new TreeMap<>();

  private final SortedSet<String> instantiated = new TreeSet<>();

  /** An interaction with one type. */
  void interaction(String type, TypeRestfulInteraction code) {
    resource(type).addInteraction().setCode(code);
    if (code == TypeRestfulInteraction.READ) {
      resource(type)
          .setVersioning(versions(type))
          .setReadHistory(versions(type) == ResourceVersionPolicy.VERSIONED)
          .setConditionalRead(conditionalRead(type))
          .addReferencePolicy(ReferenceHandlingPolicy.LITERAL);
    }
  }

  /** That a PUT makes what is not there yet. */
  void updateCreates(String type) {
    resource(type).setUpdateCreate(true);
  }

  /** That a POST is done only if nothing has an identifier yet. */
  void conditionalCreate(String type) {
    resource(type).setConditionalCreate(true);
  }

  /** That a PUT finds what it is about by an identifier. */
  void conditionalUpdate(String type) {
    resource(type).setConditionalUpdate(true);
  }

  /** That a DELETE finds what it is about, one resource at most, by an identifier. */
  void conditionalDelete(String type) {
    resource(type).setConditionalDelete(ConditionalDeleteStatus.SINGLE);
  }

  /** An interaction with the whole system. */
  void interaction(SystemRestfulInteraction code) {
    rest.addInteraction().setCode(code);
  }

  /** What is worked out has no versions. */
  private static ResourceVersionPolicy versions(String type) {
    return SearchForm.WORKED_OUT.contains(type)
        ? ResourceVersionPolicy.NOVERSION
        : ResourceVersionPolicy.VERSIONED;
  }

  /** A Group is always of now; of a Flag and an AuditEvent it is known when it last changed. */
  private static ConditionalReadStatus conditionalRead(String type) {
    return switch (type) {
      case "Flag", "AuditEvent" -> ConditionalReadStatus.MODIFIEDSINCE;
      case "Group" -> ConditionalReadStatus.NOTSUPPORTED;
      default -> ConditionalReadStatus.FULLSUPPORT;
    };
  }

  /** A parameter of a search. */
  void searchParameter(String type, SearchParameter parameter) {
    CapabilityStatementRestResourceSearchParamComponent described =
        resource(type)
            .addSearchParam()
            .setName(parameter.name())
            .setType(SearchParamType.valueOf(parameter.kind().name()));
    parameter.definition().ifPresent(described::setDefinition);
  }

  /** A parameter of every read and search, which selects nothing but shapes the answer. */
  void shape(String name, String documentation) {
    rest.addSearchParam()
        .setName(name)
        .setType(SearchParamType.SPECIAL)
        .setDocumentation(documentation);
  }

  /** A reference that a search can follow, once. */
  void include(String type, String name) {
    if (!resource(type).hasSearchInclude(name)) {
      resource(type).addSearchInclude(name);
    }
  }

  /** A reference that a search can follow backwards, once. */
  void revinclude(String type, String name) {
    if (!resource(type).hasSearchRevInclude(name)) {
      resource(type).addSearchRevInclude(name);
    }
  }

  /**
   * An operation on a type or on its instances.
   *
   * @param name without the dollar sign
   * @param definition canonical of its OperationDefinition
   */
  void operation(String type, String name, String definition) {
    boolean known =
        resource(type).getOperation().stream().anyMatch(one -> one.getName().equals(name));
    if (!known) {
      resource(type).addOperation(described(name, definition));
    }
  }

  /** What to know of a type beside what can be done with it. */
  void documentation(String type, String text) {
    resource(type).setDocumentation(text);
  }

  /** What to know of the whole. */
  void documentation(String text) {
    rest.setDocumentation(text);
  }

  /** A CapabilityStatement whose claims are met. */
  void instantiates(String canonical) {
    instantiated.add(canonical);
  }

  /** An operation on the whole system. */
  void operation(String name, String definition) {
    rest.addOperation(described(name, definition));
  }

  private static CapabilityStatementRestResourceOperationComponent described(
      String name, String definition) {
    return new CapabilityStatementRestResourceOperationComponent()
        .setName(name)
        .setDefinition(definition);
  }

  private CapabilityStatementRestResourceComponent resource(String type) {
    return resources.computeIfAbsent(type, Capabilities::newResource);
  }

  private static CapabilityStatementRestResourceComponent newResource(String type) {
    CapabilityStatementRestResourceComponent resource =
        new CapabilityStatementRestResourceComponent().setType(type);
    OwnProfiles.BY_TYPE.getOrDefault(type, List.of()).forEach(resource::addSupportedProfile);
    return resource;
  }

  /**
   * The statement.
   *
   * @param base absolute URL of {@code /fhir} as the caller knows it
   * @param since when the service was started
   */
  CapabilityStatement statement(String base, Instant since) {
    CapabilityStatement statement = new CapabilityStatement();
    statement.setStatus(PublicationStatus.ACTIVE);
    statement.setDateElement(new DateTimeType(since.truncatedTo(ChronoUnit.SECONDS).toString()));
    statement.setDescription("What this server of Indwell can do. " + SAFETY);
    statement.setKind(CapabilityStatementKind.INSTANCE);
    instantiated.forEach(statement::addInstantiates);
    statement.getSoftware().setName("Indwell");
    statement.getImplementation().setDescription(SUBJECT).setUrl(base);
    statement.setFhirVersion(FHIRVersion._4_0_1);
    statement.addFormat(Negotiation.FHIR_JSON);
    CapabilityStatementRestComponent described = rest.copy();
    described.setMode(RestfulCapabilityMode.SERVER);
    resources.values().forEach(resource -> described.addResource(resource.copy()));
    statement.addRest(described);
    return statement;
  }
}
