package indwell.web.fhir;

import indwell.domain.refusal.IssueCode;
import indwell.intake.Rfc3339;
import indwell.web.fhir.ParametersBody.Part;
import indwell.web.fhir.QueryText.Parameter;
import java.time.Instant;
import java.time.LocalDate;
import java.time.YearMonth;
import java.time.format.DateTimeParseException;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Pattern;

/** The parameters of an operation, out of the query and, with POST, a Parameters resource. */
final class OperationInput {
  private static final Pattern SPACE_FOR_PLUS = Pattern.compile(" (?=\\d\\d:\\d\\d$)");
  private static final Pattern MONTH = Pattern.compile("\\d{4}-(0[1-9]|1[0-2])");
  private static final Pattern DATE = Pattern.compile("\\d{4}-\\d\\d-\\d\\d");

  private final Map<String, String> values = new LinkedHashMap<>();

  private OperationInput() {}

  /**
   * Reads them.
   *
   * @param known the names that the operation has
   * @throws FhirRefusal 400 for others, and for a name that stands twice
   */
  static OperationInput of(FhirRequest request, Set<String> known) {
    return of(given(request), known, request.lenient());
  }

  /**
   * Reads them.
   *
   * @param lenient whether others are passed over
   */
  static OperationInput of(List<Parameter> given, Set<String> known, boolean lenient) {
    OperationInput input = new OperationInput();
    for (Parameter one : given) {
      if (known.contains(one.name())) {
        input.add(one);
      } else if (!lenient) {
        throw unknown(one.name(), known);
      }
    }
    return input;
  }

  /** All of them, in their order. */
  static List<Parameter> given(FhirRequest request) {
    List<Parameter> given = new ArrayList<>(request.parameters());
    if (request.method().equals("POST") && request.body().length() > 0) {
      FhirBody body = parameters(FhirBody.read(request.body().getBytes()));
      ParametersBody.parts(body.bytes()).forEach(part -> given.add(simple(part)));
    }
    return given;
  }

  /**
   * The same body, if it is of type Parameters.
   *
   * @throws FhirRefusal 400 otherwise
   */
  static FhirBody parameters(FhirBody body) {
    if (!body.type().equals("Parameters")) {
      throw FhirRefusal.of(
          400,
          IssueCode.BAD_RESOURCE,
          "",
          "The body is of type " + Shown.text(body.type()) + "; expected Parameters.");
    }
    return body;
  }

  /** A parameter with a simple value. */
  static Parameter simple(Part part) {
    return new Parameter(
        part.name(),
        part.value()
            .orElseThrow(
                () ->
                    FhirRefusal.badParameter(
                        part.name(),
                        "Parameter "
                            + Shown.text(part.name())
                            + " has no simple value; expected one such as valueDate.")));
  }

  private void add(Parameter one) {
    String before = values.putIfAbsent(one.name(), one.value());
    if (before != null) {
      throw FhirRefusal.badParameter(
          one.name(),
          "Parameter "
              + one.name()
              + " stands twice, with "
              + Shown.text(before)
              + " and "
              + Shown.text(one.value())
              + "; expected it once.");
    }
  }

  static FhirRefusal unknown(String name, Set<String> known) {
    return FhirRefusal.of(
        400,
        IssueCode.UNKNOWN_PARAMETER,
        "",
        "Parameter "
            + Shown.text(name)
            + " is not known here; expected "
            + (known.isEmpty() ? "none" : String.join(", ", known.stream().sorted().toList()))
            + ".");
  }

  /** Whether it is {@code true}; absent means false. */
  boolean flag(String name) {
    Optional<String> given = text(name);
    if (given.isEmpty() || given.get().equals("false")) {
      return false;
    }
    if (given.get().equals("true")) {
      return true;
    }
    throw FhirRefusal.badParameter(
        name, "Parameter " + name + " is " + Shown.text(given.get()) + "; expected true or false.");
  }

  /** The value as it was sent. */
  Optional<String> text(String name) {
    return Optional.ofNullable(values.get(name));
  }

  /** A date that has to be there. */
  LocalDate date(String name) {
    String value =
        text(name)
            .orElseThrow(
                () ->
                    FhirRefusal.of(
                        400,
                        IssueCode.MISSING_PARAMETER,
                        name,
                        "Parameter " + name + " is missing; expected a date such as 2026-03-01."));
    try {
      if (DATE.matcher(value).matches()) {
        return LocalDate.parse(value);
      }
    } catch (DateTimeParseException e) {
      // No calendar has this date; told below like any other text that is no date.
    }
    throw FhirRefusal.badParameter(
        name,
        "Value "
            + Shown.text(value)
            + " of parameter "
            + name
            + " is no date; expected one such as 2026-03-01.");
  }

  /** A calendar month that has to be there. */
  YearMonth month(String name) {
    String value =
        text(name)
            .orElseThrow(
                () ->
                    FhirRefusal.of(
                        400,
                        IssueCode.MISSING_PARAMETER,
                        name,
                        "Parameter " + name + " is missing; expected a month such as 2026-03."));
    if (MONTH.matcher(value).matches()) {
      return YearMonth.parse(value);
    }
    throw FhirRefusal.badParameter(
        name,
        "Value "
            + Shown.text(value)
            + " of parameter "
            + name
            + " is no month; expected one such as 2026-03.");
  }

  /** A time, or the one that holds when none is given. */
  Instant time(String name, Instant otherwise) {
    return text(name).map(value -> time(name, value)).orElse(otherwise);
  }

  private static Instant time(String name, String value) {
    // A plus sign that was not escaped in the query has become a space.
    String repaired = SPACE_FOR_PLUS.matcher(value).replaceFirst("+");
    return Rfc3339.read(repaired)
        .orElseThrow(
            () ->
                FhirRefusal.badParameter(
                    name,
                    "Value "
                        + Shown.text(value)
                        + " of parameter "
                        + name
                        + " is no time; expected RFC 3339 with an offset, such as"
                        + " 2026-03-01T12:00:00+01:00."));
  }
}
