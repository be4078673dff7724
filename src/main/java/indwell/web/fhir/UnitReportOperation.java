package indwell.web.fhir;

import indwell.access.Need;
import indwell.domain.event.Ward;
import indwell.domain.rule.RuleId;
import indwell.fhir.outcome.Outcomes;
import indwell.fhir.term.Systems;
import indwell.usecase.UnitMonth;
import indwell.usecase.UnitReport;
import indwell.usecase.UnitReport.Question;
import indwell.usecase.UnitReport.Report;
import indwell.usecase.UnitWard;
import indwell.web.HttpAnswer;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.hl7.fhir.r4.model.DateType;
import org.hl7.fhir.r4.model.Parameters;

/** What surveillance says of all wards, or of one, month by month (docs/api/unit-report.md). */
final class UnitReportOperation implements Interaction {
  private static final String DEFINITION = Systems.BASE + "/OperationDefinition/unit-report";

  private final UnitReport unitReport;
  private final boolean oneWard;

  /**
   * @param oneWard the form below {@code Location}
   */
  UnitReportOperation(UnitReport unitReport, boolean oneWard) {
    this.unitReport = unitReport;
    this.oneWard = oneWard;
  }

  @Override
  public Route route() {
    return Route.of(Set.of("GET", "POST"), oneWard ? "Location/{id}/$unit-report" : "$unit-report");
  }

  @Override
  public List<Need> needs(FhirRequest request) {
    return DeviceDaysOperation.REPORTS;
  }

  @Override
  public HttpAnswer answer(FhirRequest request) {
    OperationInput input = OperationInput.of(request, Set.of("start", "end"));
    Optional<Ward> ward = oneWard ? Optional.of(new Ward(request.id())) : Optional.empty();
    Question question = new Question(ward, input.month("start"), input.month("end"));
    return unitReport
        .of(question, request.now())
        .fold(
            report -> FhirAnswers.resource(request, parameters(report)),
            issue -> {
              throw FhirRefusal.of(issue);
            });
  }

  private static Parameters parameters(Report report) {
    Parameters parameters = new Parameters();
    parameters
        .addParameter()
        .setName("start")
        .setValue(new DateType(report.question().start().toString()));
    parameters
        .addParameter()
        .setName("end")
        .setValue(new DateType(report.question().endInclusive().toString()));
    for (UnitMonth month : report.months()) {
      new UnitMonthParts(month, report.predictions().model()).addTo(group(parameters, "month"));
    }
    for (UnitWard ward : report.wards()) {
      new UnitWardParts(ward, report.months()).addTo(group(parameters, "ward"));
    }
    addPooled(parameters, report);
    if (!report.remarks().isEmpty()) {
      parameters
          .addParameter()
          .setName("remarks")
          .setResource(Outcomes.ofRemarks(report.remarks()));
    }
    return parameters;
  }

  private static void addPooled(Parameters parameters, Report report) {
    List<FigureTrace.Fact> facts =
        report.months().stream()
            .filter(month -> month.factsVersion() > 0)
            .<FigureTrace.Fact>map(
                month -> new FigureTrace.SuppliedFacts(month.month(), month.factsVersion()))
            .toList();
    RatioParts.add(
        group(parameters, "pooledSir"), RuleId.SIR_1, Optional.empty(), report.infections(), facts);
    RatioParts.add(
        group(parameters, "pooledSur"),
        RuleId.SUR_1,
        Optional.empty(),
        report.utilisation(),
        facts);
  }

  private static FigureParts group(Parameters parameters, String name) {
    return new FigureParts(parameters.addParameter().setName(name));
  }

  @Override
  public void describe(Capabilities capabilities) {
    if (oneWard) {
      capabilities.operation("Location", "unit-report", DEFINITION);
    } else {
      capabilities.operation("unit-report", DEFINITION);
    }
  }
}
