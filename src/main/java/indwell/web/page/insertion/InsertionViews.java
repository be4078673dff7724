package indwell.web.page.insertion;

import indwell.domain.event.BusinessId;
import indwell.domain.event.CatheterEvent.SpecimenCollection;
import indwell.domain.event.Drainage;
import indwell.domain.event.EventType;
import indwell.domain.event.InsertionFindings;
import indwell.domain.event.InsertionStep;
import indwell.domain.event.Placing;
import indwell.domain.event.Product;
import indwell.domain.event.Route;
import indwell.domain.event.StepResult;
import indwell.domain.event.Ward;
import indwell.domain.timeline.PlacementEnd;
import indwell.fhir.map.ResourceId;
import indwell.fhir.term.BedsideTerms;
import indwell.usecase.InsertionRecord.Securement;
import indwell.usecase.InsertionRecord.Sheet;
import indwell.web.page.Histories;
import indwell.web.page.Moment;
import indwell.web.page.Moments;
import indwell.web.page.Whys;
import indwell.web.page.Words;
import indwell.web.page.insertion.InsertionView.Flag;
import indwell.web.page.insertion.InsertionView.Line;
import indwell.web.page.insertion.InsertionView.Part;
import indwell.web.page.insertion.InsertionView.Step;
import java.math.BigDecimal;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.stream.Stream;

/** Puts the record of an insertion into words. */
final class InsertionViews {
  private static final String ML = "mL";

  private final Moments moments;
  private final Whys whys;
  private final Histories histories;

  InsertionViews(Moments moments) {
    this.moments = moments;
    this.whys = new Whys(moments);
    this.histories = new Histories(moments);
  }

  InsertionView view(Sheet record, Instant now) {
    String patientId = ResourceId.patient(record.event().patient()).id();
    return new InsertionView(
        record.event().patient().value(),
        "/patients/" + patientId,
        record.placing().catheter().value(),
        record.event().type() == EventType.CATHETER_EXCHANGED ? "Exchange" : "Insertion",
        List.of(
            insertion(record),
            catheter(record.placing()),
            balloon(record.placing()),
            specimens(record),
            securement(record)),
        Stream.of(InsertionStep.values()).map(step -> step(record.placing(), step)).toList(),
        record.flags().stream()
            .map(flag -> new Flag(flag.code().display(), whys.of(flag.trace(), now)))
            .toList(),
        histories.of(record.history(), patientId, now),
        "/fhir/Procedure/" + ResourceId.mainOf(record.event()).id());
  }

  private Part insertion(Sheet record) {
    Placing placing = record.placing();
    InsertionFindings findings = placing.findings();
    List<Line> lines = new ArrayList<>();
    lines.add(at("When", "occurredAt", Optional.of(record.event().at())));
    lines.add(text("Ward", "ward", record.ward().map(Ward::code)));
    lines.add(
        text(
            "Recorded by",
            "recorder",
            record.event().envelope().recorder().map(BusinessId::value)));
    lines.add(text("Why", "indication", Optional.of(Words.of(placing.indication()))));
    placing
        .surgeryEndedAt()
        .ifPresent(end -> lines.add(at("Operation ended", "surgeryEndedAt", Optional.of(end))));
    lines.add(number("Attempts", "attempts", findings.attempts(), ""));
    lines.add(number("Urine returned", "urineReturnedMl", findings.urineReturnedMl(), ML));
    findings
        .insertedBeforeAdmission()
        .ifPresent(
            before -> lines.add(text("Put in before the stay", "", Optional.of(yes(before)))));
    record
        .placement()
        .flatMap(one -> one.end())
        .map(PlacementEnd::at)
        .ifPresent(end -> lines.add(at("Out since", "end", Optional.of(end))));
    return new Part(
        record.event().type() == EventType.CATHETER_EXCHANGED ? "Exchange" : "Insertion", lines);
  }

  private Part catheter(Placing placing) {
    Product product = placing.product();
    boolean urethral = placing.route() == Route.URETHRAL;
    boolean bag = placing.drainage() == Drainage.BAG;
    return new Part(
        "Catheter",
        List.of(
            text("Route", "route", Optional.of(urethral ? "urethral" : "suprapubic")),
            text("Drains into", "drainage", Optional.of(bag ? "a bag" : "no bag")),
            number("Size", "sizeCh", OptionalInt.of(product.sizeCh()), "Ch"),
            number("Lumens", "lumens", product.lumens(), ""),
            text("Material", "material", product.material()),
            text("Lot", "lotNumber", product.lotNumber()),
            text("Device identifier", "udi", product.udi()),
            number("Longest dwell by its maker", "maxDwellDays", product.maxDwellDays(), "days")));
  }

  private Part balloon(Placing placing) {
    return new Part(
        "Balloon",
        List.of(
            number("Volume on the label", "balloonLabelMl", placing.product().balloonLabelMl(), ML),
            number("Volume put in", "balloonFilledMl", placing.findings().balloonFilledMl(), ML)));
  }

  private Part specimens(Sheet record) {
    List<Line> lines = new ArrayList<>();
    lines.add(
        text(
            "Taken at the insertion",
            "specimenTaken",
            record.placing().findings().specimenTaken().map(InsertionViews::yes)));
    for (SpecimenCollection specimen : record.specimens()) {
      String purpose = specimen.purpose().map(one -> ", " + one.code()).orElse("");
      lines.add(at("Specimen" + purpose, "", Optional.of(specimen.at())));
    }
    return new Part("Specimen", lines);
  }

  private Part securement(Sheet record) {
    Securement securement = record.securement();
    boolean changed = !securement.by().key().equals(record.event().key());
    List<Line> lines = new ArrayList<>();
    lines.add(
        at(
            changed ? "Last changed" : "Counted from the insertion",
            "securedAt",
            Optional.of(securement.by().at())));
    securement
        .lastGoodDay()
        .ifPresent(
            day ->
                lines.add(
                    new Line(
                        "Next change by the end of",
                        "securementGoodThrough",
                        "",
                        "",
                        List.of(moments.date(day)))));
    return new Part("Securement", lines);
  }

  private static String yes(boolean yes) {
    return yes ? "yes" : "no";
  }

  private Line at(String what, String name, Optional<Instant> at) {
    List<Moment> moment = at.map(moments::at).stream().toList();
    return new Line(what, name, "", "", moment);
  }

  private static Line text(String what, String name, Optional<String> text) {
    return new Line(what, name, text.orElse(""), "", List.of());
  }

  private static Line number(String what, String name, OptionalInt number, String unit) {
    String value = number.isPresent() ? Integer.toString(number.getAsInt()) : "";
    return new Line(what, name, value, unit, List.of());
  }

  private static Line number(String what, String name, Optional<BigDecimal> number, String unit) {
    return new Line(what, name, number.map(BigDecimal::toPlainString).orElse(""), unit, List.of());
  }

  private static Step step(Placing placing, InsertionStep step) {
    Optional<StepResult> result = Optional.ofNullable(placing.steps().get(step));
    String words =
        result
            .map(
                one ->
                    switch (one) {
                      case DONE -> "done";
                      case NOT_DONE -> "not done";
                      case NOT_APPLICABLE -> "not applicable";
                    })
            .orElse("not stated");
    return new Step(
        BedsideTerms.of(step).display(),
        step.code(),
        result.map(StepResult::code).orElse("not-stated"),
        words);
  }
}
