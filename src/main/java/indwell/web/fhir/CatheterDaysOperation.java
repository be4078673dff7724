package indwell.web.fhir;

import indwell.access.Need;
import indwell.access.Permission;
import indwell.domain.event.Ward;
import indwell.domain.timeline.CatheterDay;
import indwell.fhir.map.MappingContext;
import indwell.fhir.map.TraceExtension;
import indwell.fhir.outcome.Outcomes;
import indwell.fhir.term.Systems;
import indwell.usecase.CatheterDays;
import indwell.usecase.CatheterDays.Days;
import indwell.web.HttpAnswer;
import java.time.Instant;
import java.util.List;
import java.util.Set;
import org.hl7.fhir.r4.model.BooleanType;
import org.hl7.fhir.r4.model.DateTimeType;
import org.hl7.fhir.r4.model.DateType;
import org.hl7.fhir.r4.model.Parameters;
import org.hl7.fhir.r4.model.Parameters.ParametersParameterComponent;
import org.hl7.fhir.r4.model.PositiveIntType;
import org.hl7.fhir.r4.model.StringType;

/** The catheter days of a patient's latest stay (contract, section 3). */
final class CatheterDaysOperation implements Interaction {
  private static final String DEFINITION = Systems.BASE + "/OperationDefinition/catheter-days";

  private final CatheterDays catheterDays;
  private final MappingContext context;

  CatheterDaysOperation(CatheterDays catheterDays, MappingContext context) {
    this.catheterDays = catheterDays;
    this.context = context;
  }

  @Override
  public Route route() {
    return Route.of(Set.of("GET", "POST"), "Patient/{id}/$catheter-days");
  }

  @Override
  public List<Need> needs(FhirRequest request) {
    return List.of(
        Need.of("Patient", Permission.READ),
        Need.of("Encounter", Permission.READ),
        Need.of("DeviceUseStatement", Permission.READ));
  }

  @Override
  public HttpAnswer answer(FhirRequest request) {
    OperationInput input = OperationInput.of(request, Set.of("asOf"));
    return catheterDays
        .of(request.id(), input.time("asOf", request.now()), request.now())
        .fold(
            days -> FhirAnswers.resource(request, parameters(days)),
            issue -> {
              throw FhirRefusal.of(issue);
            });
  }

  private Parameters parameters(Days days) {
    Parameters parameters = new Parameters();
    parameters.addParameter().setName("asOf").setValue(dateTime(days.asOf()));
    for (int i = 0; i < days.days().size(); i++) {
      ParametersParameterComponent day = parameters.addParameter().setName("day");
      days.traces().get(i).forEach(trace -> day.addExtension(TraceExtension.of(trace)));
      addDay(day, days.days().get(i));
    }
    days.openSince()
        .ifPresent(
            since -> parameters.addParameter().setName("openSince").setValue(dateTime(since)));
    days.catheterDay()
        .ifPresent(
            day ->
                parameters
                    .addParameter()
                    .setName("catheterDay")
                    .setValue(new PositiveIntType(day.value())));
    if (!days.remarks().isEmpty()) {
      parameters.addParameter().setName("remarks").setResource(Outcomes.ofRemarks(days.remarks()));
    }
    return parameters;
  }

  private static void addDay(ParametersParameterComponent parameter, CatheterDay day) {
    parameter.addPart().setName("date").setValue(new DateType(day.date().toString()));
    day.number()
        .ifPresent(
            number ->
                parameter
                    .addPart()
                    .setName("dayNumber")
                    .setValue(new PositiveIntType(number.value())));
    parameter.addPart().setName("catheterPresent").setValue(new BooleanType(day.catheterPresent()));
    parameter.addPart().setName("eligible").setValue(new BooleanType(day.eligible()));
    day.ward()
        .map(Ward::code)
        .ifPresent(ward -> parameter.addPart().setName("ward").setValue(new StringType(ward)));
  }

  private DateTimeType dateTime(Instant instant) {
    return new DateTimeType(context.text(instant));
  }

  @Override
  public void describe(Capabilities capabilities) {
    capabilities.operation("Patient", "catheter-days", DEFINITION);
  }
}
