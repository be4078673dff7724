package indwell.blackbox;

import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse.BodyHandlers;
import java.util.ArrayList;
import java.util.List;

/** Says the {@link Canaries} in every place of a request. */
final class CanaryCaller {
  /** One that there is not, too. */
  private static final List<String> METHODS =
      List.of("GET", "POST", "PUT", "DELETE", "PATCH", "QZ7CANARY");

  private static final List<String> TYPES =
      List.of(
          "application/json",
          "application/fhir+json",
          "application/x-ndjson",
          "application/x-www-form-urlencoded",
          "text/" + Canaries.NUMBER);

  private static final List<String> OF_BODIES =
      List.of("/events", "/fhir", "/fhir/Patient/$validate", "/surveillance/candidates");

  private static final String NO_VERSION = "W/\"" + Canaries.NUMBER + "\"";

  private final HttpClient client =
      HttpClient.newBuilder().version(HttpClient.Version.HTTP_1_1).build();
  private final RunningService service;

  CanaryCaller(RunningService service) {
    this.service = service;
  }

  /**
   * Every address by every method, and every body as whatever it may be said to be. The first round
   * asks for a version that is none, which may be all that is looked at.
   *
   * @param patient the id of one, or anything else
   * @param rounds through the addresses, each time with other bodies
   * @return the status of each answer
   */
  List<Integer> askAll(String patient, int rounds) throws Exception {
    List<Integer> statuses = new ArrayList<>();
    for (int round = 0; round < rounds; round++) {
      for (String address : Canaries.addresses(patient)) {
        for (String method : METHODS) {
          HttpRequest.Builder request = inTurn(method, address, statuses.size());
          statuses.add(send(round == 0 ? request.header("If-Match", NO_VERSION) : request));
        }
      }
    }
    for (String body : Canaries.bodies()) {
      for (String type : TYPES) {
        for (String address : OF_BODIES) {
          statuses.add(send(request("POST", address, type, body)));
        }
      }
    }
    return statuses;
  }

  /** Each body in turn; when all had theirs, as the next type. */
  private HttpRequest.Builder inTurn(String method, String address, int turn) {
    List<String> bodies = Canaries.bodies();
    return request(
        method,
        address,
        TYPES.get(turn / bodies.size() % TYPES.size()),
        bodies.get(turn % bodies.size()));
  }

  private HttpRequest.Builder request(String method, String address, String type, String body) {
    return HttpRequest.newBuilder(service.uri(address))
        .method(
            method, method.equals("GET") ? BodyPublishers.noBody() : BodyPublishers.ofString(body))
        .header("Content-Type", type)
        .header("User-Agent", Canaries.NAME)
        .header("Authorization", "Bearer " + Canaries.TOKEN)
        .header("If-None-Exist", "identifier=urn:canary|" + Canaries.NUMBER)
        .header("Cookie", "indwell-recorder=%1$s; indwell-session=%1$s".formatted(Canaries.NUMBER))
        .header("Referer", "https://canary.example/" + Canaries.NUMBER)
        .header("X-Forwarded-For", Canaries.NUMBER)
        .header("X-Request-Id", Canaries.NUMBER)
        .header("baggage", "patient=" + Canaries.NUMBER)
        .header("traceparent", "00-" + Canaries.NUMBER + "-00f067aa0ba902b7-01");
  }

  private int send(HttpRequest.Builder request) throws Exception {
    return client.send(request.build(), BodyHandlers.discarding()).statusCode();
  }
}
