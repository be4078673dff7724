package indwell.web.fhir;

import indwell.access.Caller;
import indwell.access.Need;
import indwell.access.Permission;
import indwell.domain.refusal.IssueCode;
import indwell.intake.Rfc3339;
import indwell.port.ExportOrder.Scope;
import indwell.usecase.export.ExportTypes;
import indwell.web.fhir.QueryText.Parameter;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Pattern;

/**
 * The parameters of a kick-off request, out of the query and, with POST, a Parameters resource.
 * What is not supported is refused or, at the caller's wish, passed over with a remark.
 */
final class ExportInput {
  private static final Set<String> FORMATS =
      Set.of("application/fhir+ndjson", "application/ndjson", "ndjson");

  private static final Set<String> KNOWN =
      Set.of("_outputFormat", "_since", "_type", "_typeFilter", "_until", "patient");

  /** FHIR R4, datatype instant; seconds and offset have to be there. */
  private static final Pattern SPACE_FOR_PLUS = Pattern.compile(" (?=\\d\\d:\\d\\d$)");

  private final List<Parameter> given;
  private final boolean lenient;
  private final List<String> remarks = new ArrayList<>();

  /**
   * Reads the names.
   *
   * @throws FhirRefusal 400 for one that is not known
   */
  ExportInput(FhirRequest request) {
    given = OperationInput.given(request);
    lenient = request.lenient();
    for (Parameter one : given) {
      if (!KNOWN.contains(one.name())) {
        passOver(OperationInput.unknown(one.name(), KNOWN));
      }
    }
  }

  /** Sentences about what was passed over. */
  List<String> remarks() {
    return remarks;
  }

  /** Passes over what the refusal is about, if the caller wishes so; never what it may not do. */
  void passOver(FhirRefusal refusal) {
    if (!lenient || refusal.denies()) {
      throw refusal;
    }
    refusal.issues().forEach(issue -> remarks.add("Passed over: " + issue.diagnostics()));
  }

  void requireFormat() {
    String format = once("_outputFormat").orElse("ndjson");
    // A plus sign that was not escaped has become a space.
    if (!FORMATS.contains(format.replace("fhir ndjson", "fhir+ndjson"))) {
      throw FhirRefusal.badParameter(
          "_outputFormat",
          "Value "
              + Shown.text(format)
              + " of parameter _outputFormat is not made here; expected application/fhir+ndjson,"
              + " application/ndjson or ndjson.");
    }
  }

  Instant instant(String name, Instant otherwise) {
    return once(name).map(text -> instant(name, text)).orElse(otherwise);
  }

  private static Instant instant(String name, String text) {
    return Rfc3339.read(SPACE_FOR_PLUS.matcher(text).replaceFirst("+"))
        .orElseThrow(
            () ->
                FhirRefusal.badParameter(
                    name,
                    "Value "
                        + Shown.text(text)
                        + " of parameter "
                        + name
                        + " is no instant; expected one such as 2026-03-01T12:00:00.000Z."));
  }

  /**
   * The types asked for, ascending; when none is named, all that the caller may have.
   *
   * @throws FhirRefusal 403 for a named one that it may not have (SMART Backend Services: an
   *     explicit request beyond the scopes should fail rather than be trimmed), and when there is
   *     none that it may have
   */
  List<String> types(Scope scope, Caller caller) {
    List<String> named = named();
    if (named.isEmpty()) {
      return allowed(scope, caller);
    }
    Set<String> types = new TreeSet<>();
    for (String type : named) {
      if (ExportTypes.all().contains(type)) {
        types.add(type);
      } else {
        passOver(unsupported(type));
      }
    }
    if (scope != Scope.SYSTEM && ExportTypes.SUPPORTING.containsAll(types) && !types.isEmpty()) {
      passOver(outsideCompartment(types));
    }
    types.forEach(type -> FhirAccess.require(caller, whole(type)));
    return List.copyOf(types);
  }

  /** Every resource of a type, read without being named. */
  static List<Need> whole(String type) {
    return List.of(Need.of(type, Permission.READ, Permission.SEARCH));
  }

  private static List<String> allowed(Scope scope, Caller caller) {
    List<String> allowed =
        ExportTypes.all().stream().filter(type -> caller.decide(whole(type)).allowed()).toList();
    if (allowed.isEmpty()) {
      FhirAccess.require(caller, whole(ExportTypes.all().get(0)));
    }
    if (scope != Scope.SYSTEM && ExportTypes.SUPPORTING.containsAll(allowed)) {
      // Only what belongs to patients can be asked for here.
      FhirAccess.require(caller, whole("Patient"));
    }
    return allowed;
  }

  private List<String> named() {
    return all("_type").stream().flatMap(text -> Arrays.stream(text.split(",", -1))).toList();
  }

  private static FhirRefusal unsupported(String type) {
    return FhirRefusal.badParameter(
        "_type",
        "Type "
            + Shown.text(type)
            + " of parameter _type is not exported; expected "
            + String.join(", ", ExportTypes.all())
            + ".");
  }

  private static FhirRefusal outsideCompartment(Set<String> types) {
    return FhirRefusal.badParameter(
        "_type",
        "Parameter _type asks for "
            + String.join(", ", types)
            + " alone, which lies outside the Patient compartment; expected a type within it"
            + " beside, or an export of the whole system.");
  }

  /** The values of a parameter that may be repeated. */
  List<String> all(String name) {
    return given.stream().filter(one -> one.name().equals(name)).map(Parameter::value).toList();
  }

  private Optional<String> once(String name) {
    List<String> values = all(name);
    if (values.size() > 1) {
      throw FhirRefusal.of(
          400,
          IssueCode.BAD_PARAMETER,
          name,
          "Parameter "
              + name
              + " stands twice, with "
              + Shown.text(values.get(0))
              + " and "
              + Shown.text(values.get(1))
              + "; expected it once.");
    }
    return values.stream().findFirst();
  }
}
