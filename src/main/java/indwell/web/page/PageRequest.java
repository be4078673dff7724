package indwell.web.page;

import indwell.access.Caller;
import indwell.domain.event.Ward;
import indwell.domain.refusal.IssueCode;
import indwell.web.access.Visit;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;

/**
 * A request for a page.
 *
 * @param places what stands in the address where the route has a name, such as {@code ward}
 * @param query parameters of the address, each with all its values
 * @param form fields of the body; empty without one
 * @param cookies by name
 * @param origin what the browser says of where the request comes from
 * @param visit who asks, and what the audit trail is told of it
 * @param now the service's clock when the request was taken
 */
public record PageRequest(
    String method,
    String path,
    Map<String, String> places,
    Map<String, List<String>> query,
    Map<String, List<String>> form,
    Map<String, String> cookies,
    SameOrigin origin,
    Visit visit,
    Instant now) {
  public PageRequest {
    places = Map.copyOf(places);
    query = Map.copyOf(query);
    form = Map.copyOf(form);
    cookies = Map.copyOf(cookies);
  }

  /** Who asks. */
  public Caller caller() {
    return visit.caller();
  }

  /** The ward in the address; empty where the address is about the house. */
  public Optional<Ward> ward() {
    return Optional.ofNullable(places.get("ward")).map(Ward::new);
  }

  /** What stands in the address under that name. */
  public String place(String name) {
    return Optional.ofNullable(places.get(name))
        .orElseThrow(() -> new IllegalStateException("The route has no place " + name));
  }

  /**
   * Turns away an address with parameters that mean nothing here, so that a misspelt one is not
   * passed over.
   */
  public void allowOnly(Set<String> parameters) {
    query.keySet().stream()
        .filter(name -> !parameters.contains(name))
        .findFirst()
        .ifPresent(
            name -> {
              throw PageRefusal.of(
                  IssueCode.UNKNOWN_PARAMETER,
                  "Parameter \""
                      + Shortened.text(name)
                      + "\" is not known on this page; expected "
                      + (parameters.isEmpty()
                          ? "none"
                          : parameters.stream().sorted().collect(Collectors.joining(", ")))
                      + ".");
            });
  }

  /** The values of a parameter, empty ones left out. */
  public List<String> values(String parameter) {
    return query.getOrDefault(parameter, List.of()).stream()
        .filter(value -> !value.isBlank())
        .toList();
  }

  /** The one value of a parameter; a parameter that stands twice is turned away. */
  public Optional<String> value(String parameter) {
    List<String> values = values(parameter);
    if (values.size() > 1) {
      throw PageRefusal.of(
          IssueCode.BAD_PARAMETER,
          "Parameter \"" + parameter + "\" stands more than once; expected it once.");
    }
    return values.stream().findFirst();
  }

  /** The one value of a field; empty when it was not filled in. */
  public Optional<String> field(String name) {
    return form.getOrDefault(name, List.of()).stream()
        .map(String::strip)
        .filter(value -> !value.isEmpty())
        .findFirst();
  }

  /** The value of a field that a form of this service always sends. */
  public String requiredField(String name) {
    return field(name)
        .orElseThrow(
            () ->
                PageRefusal.of(
                    IssueCode.BAD_FORM,
                    "Field \"" + name + "\" of the form is missing; expected it filled in."));
  }
}
