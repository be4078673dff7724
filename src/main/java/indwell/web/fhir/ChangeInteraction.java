package indwell.web.fhir;

import indwell.access.Need;
import indwell.domain.refusal.Issue;
import indwell.port.StoredResource;
import indwell.usecase.transaction.Answer;
import indwell.usecase.transaction.Entry;
import indwell.usecase.transaction.Entry.Verb;
import indwell.usecase.transaction.RecordBundle;
import indwell.usecase.transaction.Refused;
import indwell.web.HttpAnswer;
import indwell.web.fhir.QueryText.Parameter;
import io.vertx.core.buffer.Buffer;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import org.hl7.fhir.r4.model.CapabilityStatement.TypeRestfulInteraction;

/**
 * One resource that makes events is created, corrected or taken back: a transaction of one entry.
 *
 * <p>Source: https://hl7.org/fhir/R4/http.html#create, #update, #delete and their conditional forms
 */
final class ChangeInteraction implements Interaction {
  /** Types of which a single resource can say what happened. */
  static final Set<String> TYPES = Set.of("Encounter", "Observation", "Procedure", "Specimen");

  private static final String WHOLE = "Bundle.entry[0].resource";

  private final RecordBundle bundles;
  private final Verb verb;
  private final boolean conditional;

  private ChangeInteraction(RecordBundle bundles, Verb verb, boolean conditional) {
    this.bundles = bundles;
    this.verb = verb;
    this.conditional = conditional;
  }

  /** All of them. */
  static List<Interaction> all(RecordBundle bundles) {
    return List.of(
        new ChangeInteraction(bundles, Verb.POST, true),
        new ChangeInteraction(bundles, Verb.PUT, false),
        new ChangeInteraction(bundles, Verb.PUT, true),
        new ChangeInteraction(bundles, Verb.DELETE, false),
        new ChangeInteraction(bundles, Verb.DELETE, true));
  }

  @Override
  public Route route() {
    return Route.of(Set.of(verb.name()), conditional ? "{type}" : "{type}/{id}", TYPES);
  }

  @Override
  public List<Need> needs(FhirRequest request) {
    return EntryNeeds.of(verb, request.type(), isConditional(request));
  }

  @Override
  public HttpAnswer answer(FhirRequest request) {
    Optional<byte[]> body =
        verb == Verb.DELETE
            ? Optional.empty()
            : Optional.of(FhirBody.read(request.body().getBytes()).bytes());
    body.ifPresent(
        json ->
            FhirAccess.require(request.caller(), EntryNeeds.ofReferences(json, request.base())));
    Entry entry =
        new Entry(
            0,
            verb,
            url(request),
            Optional.empty(),
            request.headers().ifNoneExist(),
            request.headers().ifMatch(),
            body);
    try {
      Answer answer =
          bundles
              .take(
                  List.of(entry),
                  request.base(),
                  request.now(),
                  request.visit().origin(),
                  state -> "")
              .answers()
              .get(0);
      request.visit().written();
      return answer
          .resource()
          .map(stored -> kept(request, answer, stored))
          .orElseGet(() -> FhirAnswers.of(204, request.format(), Buffer.buffer()));
    } catch (Refused refused) {
      throw new FhirRefusal(refused.status(), local(refused.issues(), request.type()));
    }
  }

  private static boolean isConditional(FhirRequest request) {
    return !request.parameters().isEmpty() || request.headers().ifNoneExist().isPresent();
  }

  private static String url(FhirRequest request) {
    String query =
        request.parameters().stream()
            .map(ChangeInteraction::encoded)
            .collect(Collectors.joining("&"));
    return String.join("/", request.path()) + (query.isEmpty() ? "" : "?" + query);
  }

  private static String encoded(Parameter one) {
    return QueryText.encode(one.name()) + "=" + QueryText.encode(one.value());
  }

  /** A create says where the resource is also when somebody else was first: clients look there. */
  private HttpAnswer kept(FhirRequest request, Answer made, StoredResource stored) {
    HttpAnswer answer =
        ChangedAnswer.of(request, made.status(), stored, local(made.remarks(), request.type()));
    return made.status() == 201 || verb == Verb.POST
        ? answer.with(
            "Location",
            request.base() + "/" + stored.key().reference() + "/_history/" + stored.version())
        : answer;
  }

  private static List<Issue> local(List<Issue> issues, String type) {
    return issues.stream().map(issue -> local(issue, type)).toList();
  }

  /** The place within the resource: there is no Bundle here. */
  private static Issue local(Issue issue, String type) {
    String place = issue.expression();
    return new Issue(
        issue.severity(),
        issue.code(),
        issue.diagnostics(),
        place.startsWith(WHOLE) ? type + place.substring(WHOLE.length()) : "");
  }

  @Override
  public void describe(Capabilities capabilities) {
    for (String type : TYPES) {
      switch (verb) {
        case POST -> {
          capabilities.interaction(type, TypeRestfulInteraction.CREATE);
          capabilities.conditionalCreate(type);
        }
        case PUT -> {
          if (conditional) {
            capabilities.conditionalUpdate(type);
          } else {
            capabilities.interaction(type, TypeRestfulInteraction.UPDATE);
            capabilities.updateCreates(type);
          }
        }
        case DELETE -> {
          if (conditional) {
            capabilities.conditionalDelete(type);
          } else {
            capabilities.interaction(type, TypeRestfulInteraction.DELETE);
          }
        }
      }
    }
  }
}
