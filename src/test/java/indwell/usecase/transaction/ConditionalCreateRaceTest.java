package indwell.usecase.transaction;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.contract.AnyStore;
import indwell.contract.SharedValidator;
import indwell.fhir.Told;
import indwell.port.AuditEntry.Origin;
import indwell.port.ClinicalStore;
import indwell.port.ProfileValidator;
import indwell.usecase.transaction.Entry.Verb;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.concurrent.CyclicBarrier;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import org.hl7.fhir.r4.model.Observation;
import org.hl7.fhir.r4.model.Patient;
import org.hl7.fhir.r4.model.Resource;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/**
 * Many callers create the same thing at once, each only if it is not there: one of them creates it,
 * the others are given it, and nobody meets a conflict (FHIR R4, http.html#ccreate).
 */
@DisplayNameGeneration(DisplayNameGenerator.ReplaceUnderscores.class)
class ConditionalCreateRaceTest {
  private static final int CALLERS = 16;
  private static final Instant NOW = Instant.parse("2026-04-10T12:00:00Z");
  private static final ProfileValidator VALIDATOR = SharedValidator.WARM;

  @ParameterizedTest
  @EnumSource(AnyStore.class)
  void one_creates_and_the_others_are_given_it(AnyStore kind, @TempDir Path folder)
      throws Exception {
    try (ClinicalStore store = kind.open(folder)) {
      RecordBundle bundles = new RecordBundle(store, VALIDATOR, VALIDATOR, Told.BERLIN);

      List<List<Answer>> all =
          atOnce(
              caller -> bundles.take(weight(caller), Bundled.BASE, NOW, Origin.SERVICE, s -> ""));

      List<Answer> weights = all.stream().map(answers -> answers.get(1)).toList();
      assertThat(weights).extracting(Answer::status).containsOnlyOnce(201).containsOnly(200, 201);
      assertThat(weights.stream().map(one -> one.resource().orElseThrow().json()).distinct())
          .hasSize(1);
      assertThat(all.stream().map(answers -> answers.get(0).status()).filter(s -> s == 201))
          .hasSize(1);
    }
  }

  /** Each caller's weight has the same identifier and a value of its own. */
  private static List<Entry> weight(int caller) {
    List<Entry> entries = new ArrayList<>();
    for (Resource resource :
        Bundled.resources(new Told().weighed("70", "02 08:00").told(), Told.BERLIN)) {
      if (resource instanceof Observation weight) {
        weight.getValueQuantity().setValue(50 + caller);
        weight.getIdentifierFirstRep().setSystem("urn:test:chart").setValue("W-1");
      }
      Entry plain = Bundled.posted(List.of(resource)).get(0);
      String json = new String(plain.json().orElseThrow(), StandardCharsets.UTF_8);
      entries.add(
          new Entry(
              entries.size(),
              Verb.POST,
              plain.url(),
              resource instanceof Patient ? Optional.of("urn:uuid:p") : Optional.empty(),
              Optional.of(
                  resource instanceof Patient
                      ? "identifier=urn:test:patient|P-71"
                      : "identifier=urn:test:chart|W-1"),
              Optional.empty(),
              Optional.of(
                  json.replaceAll(
                          "\"reference\":\"Patient/[a-z2-7]+\"", "\"reference\":\"urn:uuid:p\"")
                      .getBytes(StandardCharsets.UTF_8))));
    }
    return entries;
  }

  @FunctionalInterface
  private interface Call {
    RecordBundle.Result<String> by(int caller);
  }

  private static List<List<Answer>> atOnce(Call call) throws Exception {
    ExecutorService threads = Executors.newFixedThreadPool(CALLERS);
    try {
      CyclicBarrier start = new CyclicBarrier(CALLERS);
      List<Callable<List<Answer>>> calls = new ArrayList<>();
      for (int caller = 0; caller < CALLERS; caller++) {
        int number = caller;
        calls.add(
            () -> {
              start.await();
              return call.by(number).answers();
            });
      }
      List<List<Answer>> all = new ArrayList<>();
      for (Future<List<Answer>> done : threads.invokeAll(calls)) {
        all.add(done.get());
      }
      return all;
    } finally {
      threads.shutdownNow();
    }
  }
}
