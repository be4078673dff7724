package indwell.web.fhir;

import indwell.domain.refusal.IssueCode;
import indwell.port.StoreUnavailable;
import indwell.web.FaultLog;
import indwell.web.HttpAnswer;
import indwell.web.StoreAway;
import java.util.List;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/** Finds the interaction that a request means, and answers for it when it cannot. */
final class Dispatcher {
  private final List<Interaction> interactions;

  Dispatcher(List<Interaction> interactions) {
    this.interactions = List.copyOf(interactions);
  }

  /** What a path and method mean. */
  sealed interface Target permits Found, Missed {}

  /** An interaction. */
  record Found(Interaction interaction) implements Target {}

  /** An error that is the answer. */
  record Missed(HttpAnswer answer) implements Target {}

  /**
   * Finds the interaction.
   *
   * @param method as it was sent; HEAD means the interaction of GET
   * @param path the segments below {@code /fhir}
   */
  Target find(String method, List<String> path) {
    List<Interaction> here =
        interactions.stream().filter(one -> one.route().matches(path)).toList();
    if (here.isEmpty()) {
      return new Missed(unknownPath(path));
    }
    return here.stream()
        .filter(one -> takes(one, method))
        .findFirst()
        .<Target>map(Found::new)
        .orElseGet(() -> new Missed(wrongMethod(method, here)));
  }

  private static boolean takes(Interaction interaction, String method) {
    return method.equals("HEAD")
        ? interaction.answersHead() && takes(interaction, "GET")
        : interaction.route().methods().contains(method);
  }

  /** Runs it; whatever it throws becomes an answer. */
  static HttpAnswer run(Interaction interaction, FhirRequest request) {
    try {
      FhirAccess.require(request.caller(), interaction.needs(request));
      return interaction.answer(request);
    } catch (FhirRefusal refusal) {
      refusal.reason().ifPresent(request.visit()::refused);
      return refusal.answer();
    } catch (StoreUnavailable away) {
      FaultLog.write("/fhir, the store being away", away);
      return FhirAnswers.outcome(
          503,
          StoreAway.code(away),
          StoreAway.sentence(away, "The store is away; expected the request again later."));
    } catch (RuntimeException | StackOverflowError fault) {
      return fault(fault);
    }
  }

  static HttpAnswer fault(Throwable fault) {
    long number = FaultLog.write("/fhir", fault);
    return FhirAnswers.outcome(
        500, IssueCode.INTERNAL, "The service failed; its log has this as fault " + number + ".");
  }

  private static HttpAnswer unknownPath(List<String> path) {
    return FhirAnswers.outcome(
        404,
        IssueCode.NOT_FOUND,
        "Nothing is found at "
            + Shown.text("/fhir/" + String.join("/", path))
            + "; expected a type and an interaction of the CapabilityStatement at /fhir/metadata.");
  }

  private static HttpAnswer wrongMethod(String method, List<Interaction> here) {
    String allow =
        Stream.of("GET", "POST", "PUT", "DELETE", "HEAD")
            .filter(one -> here.stream().anyMatch(interaction -> takes(interaction, one)))
            .collect(Collectors.joining(", "));
    return FhirAnswers.outcome(
            405,
            IssueCode.METHOD_NOT_ALLOWED,
            "Method " + Shown.text(method) + " is not allowed here; expected " + allow + ".")
        .with("Allow", allow);
  }
}
