package indwell.web.fhir;

import indwell.access.Caller;
import indwell.access.Need;
import indwell.fhir.term.Systems;
import indwell.web.HttpAnswer;
import java.time.Instant;
import java.util.List;
import java.util.Set;
import org.hl7.fhir.r4.model.CapabilityStatement;
import org.hl7.fhir.r4.model.CapabilityStatement.CapabilityStatementRestSecurityComponent;

/**
 * What works, told by what works: the statement is made of the registered interactions.
 *
 * <p>Source: https://hl7.org/fhir/R4/http.html#capabilities
 */
final class MetadataInteraction implements Interaction {
  /** The same claims as a file of fhir-profiles; a test holds one against the other. */
  private static final String PUBLISHED = Systems.BASE + "/CapabilityStatement/indwell";

  private final Capabilities capabilities = new Capabilities();
  private final Instant since;

  /**
   * @param others all other interactions
   * @param since when the service was started
   */
  MetadataInteraction(List<Interaction> others, Instant since) {
    capabilities.instantiates(PUBLISHED);
    others.forEach(one -> one.describe(capabilities));
    this.since = since;
  }

  @Override
  public Route route() {
    return Route.of(Set.of("GET"), "metadata");
  }

  @Override
  public List<Need> needs(FhirRequest request) {
    return List.of();
  }

  @Override
  public HttpAnswer answer(FhirRequest request) {
    OperationInput.of(request, Set.of());
    CapabilityStatement statement = capabilities.statement(request.base(), since);
    if (!(request.caller() instanceof Caller.Development)) {
      statement.getRestFirstRep().setSecurity(security());
    }
    return FhirAnswers.resource(request, statement);
  }

  /** Where tokens are given stands in the configuration that the service code stands for. */
  private static CapabilityStatementRestSecurityComponent security() {
    CapabilityStatementRestSecurityComponent security =
        new CapabilityStatementRestSecurityComponent().setCors(false);
    security
        .addService()
        .addCoding()
        .setSystem("http://terminology.hl7.org/CodeSystem/restful-security-service")
        .setCode("SMART-on-FHIR");
    return security;
  }

  /** It describes the others, and R4 has no code to describe itself with. */
  @Override
  public void describe(Capabilities unused) {}
}
