package indwell.architecture;

import java.util.Arrays;
import java.util.List;
import java.util.stream.Stream;

/** The packages of Indwell by their names, and where the planted violators of each of them lie. */
final class Layers {

  static final String PLANTED = "indwell.architecture.planted";

  /** Every package there is; a class anywhere else escapes the rules. */
  static final List<String> NAMED =
      List.of(
          "indwell.domain.event",
          "indwell.domain.time",
          "indwell.domain.timeline",
          "indwell.domain.rule",
          "indwell.domain.refusal",
          "indwell.domain.surveillance",
          "indwell.domain.candidate",
          "indwell.access",
          "indwell.intake",
          "indwell.fhir.map",
          "indwell.fhir.bundle",
          "indwell.fhir.term",
          "indwell.fhir.outcome",
          "indwell.fhir.publish",
          "indwell.fhir.search",
          "indwell.fhir.timeline",
          "indwell.port",
          "indwell.port.trace",
          "indwell.usecase",
          "indwell.usecase.audit",
          "indwell.usecase.export",
          "indwell.usecase.publish",
          "indwell.usecase.sent",
          "indwell.usecase.transaction",
          "indwell.web",
          "indwell.web.access",
          "indwell.web.edge",
          "indwell.web.events",
          "indwell.web.fhir",
          "indwell.web.surveillance",
          "indwell.web.ward",
          "indwell.web.health",
          "indwell.web.metrics",
          "indwell.web.page",
          "indwell.web.publishing",
          "indwell.web.page.insertion",
          "indwell.web.page.patient",
          "indwell.web.page.report",
          "indwell.web.page.svg",
          "indwell.adapter.store.memory",
          "indwell.adapter.store.jdbc",
          "indwell.adapter.store.sqlite",
          "indwell.adapter.store.postgres",
          "indwell.adapter.upstream",
          "indwell.adapter.validation",
          "indwell.adapter.statistics",
          "indwell.adapter.token",
          "indwell.boot",
          "indwell.boot.cli",
          "indwell.boot.metrics",
          "indwell.boot.pack",
          "indwell.boot.traces",
          "indwell.boot.demo");

  private Layers() {}

  /** Patterns for those layers, planted violators included. */
  static String[] layers(String... names) {
    return Arrays.stream(names)
        .flatMap(name -> Stream.of("indwell." + name + "..", PLANTED + "." + name + ".."))
        .toArray(String[]::new);
  }

  /** Those layers, and packages of others. */
  static String[] layersAnd(String[] layers, String... others) {
    return Stream.concat(Arrays.stream(layers), Arrays.stream(others)).toArray(String[]::new);
  }
}
