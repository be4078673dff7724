package indwell.web.fhir;

import indwell.access.Need;
import indwell.access.Permission;
import indwell.domain.event.Ward;
import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;
import indwell.fhir.map.FhirJson;
import indwell.port.StoredResource;
import indwell.usecase.DescribeWard;
import indwell.usecase.DescribeWard.Answer;
import indwell.usecase.DescribeWard.Change;
import indwell.usecase.DescribeWard.Description;
import indwell.usecase.DescribeWard.Invalid;
import indwell.usecase.DescribeWard.Kept;
import indwell.usecase.DescribeWard.Refused;
import indwell.web.HttpAnswer;
import io.vertx.core.buffer.Buffer;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.hl7.fhir.r4.model.CapabilityStatement.TypeRestfulInteraction;

/**
 * What a ward says of itself: name, kind, and its settings by date.
 *
 * <p>Source: https://hl7.org/fhir/R4/http.html#update
 */
final class DescribeWardInteraction implements Interaction {
  private static final String TYPE = "Location";
  private static final Pattern VERSION = Pattern.compile("(?:W/)?\"([1-9]\\d{0,8})\"");

  private final DescribeWard wards;

  DescribeWardInteraction(DescribeWard wards) {
    this.wards = wards;
  }

  @Override
  public Route route() {
    return Route.of(Set.of("PUT"), TYPE + "/{id}");
  }

  @Override
  public List<Need> needs(FhirRequest request) {
    return List.of(Need.of(TYPE, Permission.CREATE, Permission.UPDATE));
  }

  @Override
  public HttpAnswer answer(FhirRequest request) {
    FhirBody body = FhirBody.read(request.body().getBytes());
    if (!body.type().equals(TYPE)) {
      throw FhirRefusal.of(
          400,
          IssueCode.BAD_RESOURCE,
          "",
          "The resource is of type " + Shown.text(body.type()) + "; expected Location.");
    }
    if (!body.id().equals(Optional.of(request.id()))) {
      throw FhirRefusal.of(
          400,
          IssueCode.BAD_RESOURCE,
          "Location.id",
          "The id is "
              + body.id().map(Shown::text).orElse("not there")
              + "; expected "
              + request.id()
              + " as in the address.");
    }
    Description asked =
        new Description(new Ward(request.id()), body.bytes(), ifVersion(request), restate(request));
    Answer answer = wards.put(asked, request.now(), request.visit().origin());
    if (answer instanceof Kept) {
      request.visit().written();
    }
    return answer(request, answer);
  }

  private static HttpAnswer answer(FhirRequest request, Answer answer) {
    if (answer instanceof Kept kept) {
      return kept(request, kept.location(), kept.change());
    }
    if (answer instanceof Invalid invalid) {
      return FhirAnswers.of(
          422,
          Negotiation.FHIR_JSON,
          Buffer.buffer(FhirJson.encode(FindingOutcome.of(invalid.findings()))));
    }
    Issue issue = ((Refused) answer).issue();
    throw new FhirRefusal(
        issue.code() == IssueCode.NOT_THE_CURRENT_VERSION ? 412 : 422, List.of(issue));
  }

  private static HttpAnswer kept(FhirRequest request, StoredResource location, Change change) {
    boolean created = change == Change.CREATED;
    HttpAnswer answer = ChangedAnswer.of(request, created ? 201 : 200, location, List.of());
    return created
        ? answer.with(
            "Location",
            request.base() + "/" + location.key().reference() + "/_history/" + location.version())
        : answer;
  }

  private static Optional<Integer> ifVersion(FhirRequest request) {
    return request
        .headers()
        .ifMatch()
        .map(
            tag -> {
              Matcher matcher = VERSION.matcher(tag.trim());
              if (!matcher.matches()) {
                throw FhirRefusal.badParameter(
                    "If-Match",
                    "If-Match "
                        + Shown.text(tag)
                        + " names no version; expected W/\"1\" or later.");
              }
              return Integer.valueOf(matcher.group(1));
            });
  }

  /** A PUT with parameters is the conditional form, which is not offered; but for this one. */
  private static boolean restate(FhirRequest request) {
    return OperationInput.of(request.withBody(Buffer.buffer()), Set.of("restate")).flag("restate");
  }

  @Override
  public void describe(Capabilities capabilities) {
    capabilities.updateCreates(TYPE);
    capabilities.interaction(TYPE, TypeRestfulInteraction.UPDATE);
  }
}
