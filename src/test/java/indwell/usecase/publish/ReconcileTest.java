package indwell.usecase.publish;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import indwell.adapter.store.memory.MemoryStore;
import indwell.adapter.upstream.Credentials;
import indwell.fhir.term.Systems;
import indwell.usecase.RandomBodies;
import indwell.usecase.publish.Reconcile.Difference;
import indwell.usecase.publish.Reconcile.Finding;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.hl7.fhir.r4.model.Narrative;
import org.hl7.fhir.r4.model.Patient;
import org.hl7.fhir.r4.model.Procedure;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** What differs between the record and the hospital is told, and nothing else. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class ReconcileTest {

  private static List<Finding> findings(Bench bench) {
    List<Finding> found = new ArrayList<>();
    long compared =
        new Reconcile(
                bench.store, bench.outbox(), bench.upstream(Credentials.none()), bench.addressing)
            .compare(found::add);
    assertThat(compared).isEqualTo(bench.stored().size());
    return found;
  }

  @ParameterizedTest
  @EnumSource
  void missing_different_and_extra_are_told(Addressing addressing) throws Exception {
    try (Bench bench = new Bench(new MemoryStore(), addressing)) {
      List<String> bodies = new RandomBodies(61).bodies();
      bench.record(bodies.subList(0, bodies.size() - 6));
      assertThat(findings(bench))
          .hasSize(bench.stored().size())
          .allMatch(one -> one.difference() == Difference.MISSING && one.waiting());

      Publisher publisher = bench.publisher(1);
      PublishingTest.drained(bench);
      publisher.close();
      assertThat(findings(bench)).isEmpty();

      List<String> procedures = references(bench, "Procedure");
      String gone = procedures.get(0);
      bench.hospital.change(there(bench, gone), Optional.empty());
      String changed = procedures.get(1);
      Procedure other = (Procedure) newest(bench, there(bench, changed)).copy();
      other.addNote().setText("Somebody else wrote this.");
      bench.hospital.change(there(bench, changed), Optional.of(other));
      String narrated = references(bench, "Patient").get(0);
      Patient same = (Patient) newest(bench, there(bench, narrated)).copy();
      same.getText()
          .setStatus(Narrative.NarrativeStatus.GENERATED)
          .setDivAsString("<div>Narrative</div>");
      same.getMeta().addTag().setCode("theirs");
      bench.hospital.change(there(bench, narrated), Optional.of(same));
      Procedure extra = new Procedure();
      extra.setId("extra");
      extra.addIdentifier().setSystem(Systems.EVENT).setValue("gone:e1");
      bench.hospital.change("Procedure/extra", Optional.of(extra));
      Procedure foreign = new Procedure();
      foreign.setId("foreign");
      bench.hospital.change("Procedure/foreign", Optional.of(foreign));
      Patient somebody = new Patient();
      somebody.setId("somebody");
      bench.hospital.change("Patient/somebody", Optional.of(somebody));

      assertThat(findings(bench))
          .containsExactlyInAnyOrder(
              new Finding(Difference.MISSING, gone, false),
              new Finding(Difference.DIFFERENT, changed, false),
              new Finding(Difference.EXTRA, "Procedure/extra", false));

      bench.hospital.script = request -> Optional.of(Fault.status(403));
      assertThatThrownBy(() -> findings(bench))
          .hasMessage("The other server answered 403; expected resources.");
    }
  }

  private static List<String> references(Bench bench, String type) {
    return bench.stored().stream()
        .map(one -> one.key().reference())
        .filter(reference -> reference.startsWith(type + "/"))
        .sorted()
        .toList();
  }

  private static String there(Bench bench, String reference) {
    return bench.theirReference(SendOrder.key(reference).orElseThrow());
  }

  private static org.hl7.fhir.r4.model.Resource newest(Bench bench, String reference) {
    var versions = bench.hospital.versions().get(reference);
    return versions.get(versions.size() - 1);
  }
}
