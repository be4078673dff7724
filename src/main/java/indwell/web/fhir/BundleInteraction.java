package indwell.web.fhir;

import indwell.access.Need;
import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;
import indwell.port.AuditEntry;
import indwell.port.ClinicalStore;
import indwell.port.ClinicalStore.Reading;
import indwell.port.StoreUnavailable;
import indwell.usecase.OneState;
import indwell.usecase.transaction.Answer;
import indwell.usecase.transaction.BundleWatch.Kind;
import indwell.usecase.transaction.BundleWatch.Outcome;
import indwell.usecase.transaction.Entry;
import indwell.usecase.transaction.RecordBundle;
import indwell.usecase.transaction.Refused;
import indwell.web.FaultLog;
import indwell.web.HttpAnswer;
import indwell.web.StoreAway;
import indwell.web.access.Visit;
import indwell.web.fhir.BundleReader.Sent;
import io.vertx.core.buffer.Buffer;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Set;
import java.util.function.Function;
import java.util.function.Supplier;
import java.util.stream.Stream;
import org.hl7.fhir.r4.model.CapabilityStatement.SystemRestfulInteraction;

/**
 * Several requests in one: a transaction, which is done as a whole or not at all, or a batch, whose
 * entries know nothing of each other.
 *
 * <p>Source: https://hl7.org/fhir/R4/http.html#transaction
 */
final class BundleInteraction implements Interaction {
  private final RecordBundle bundles;
  private final List<Interaction> others;
  private final Function<ClinicalStore, List<Interaction>> within;

  /**
   * @param others all that can be read; may still grow
   * @param within what can be read of the state that a transaction leaves
   */
  BundleInteraction(
      RecordBundle bundles,
      List<Interaction> others,
      Function<ClinicalStore, List<Interaction>> within) {
    this.bundles = bundles;
    this.others = others;
    this.within = within;
  }

  @Override
  public Route route() {
    return new Route(Set.of("POST"), List.of(), Set.of());
  }

  @Override
  public List<Need> needs(FhirRequest request) {
    return List.of(Need.known());
  }

  @Override
  public HttpAnswer answer(FhirRequest request) {
    Sent bundle = told(Kind.UNREAD, false, () -> read(request));
    Kind kind = bundle.type().equals("transaction") ? Kind.TRANSACTION : Kind.BATCH;
    return told(kind, true, () -> take(request, bundle));
  }

  /**
   * Has what became of it counted.
   *
   * @param whole whether nothing is left to be done afterwards
   */
  private <T> T told(Kind kind, boolean whole, Supplier<T> work) {
    try {
      T done = work.get();
      if (whole) {
        bundles.watch().answered(kind, Outcome.DONE);
      }
      return done;
    } catch (FhirRefusal refusal) {
      bundles.watch().answered(kind, refusal.status() < 500 ? Outcome.REFUSED : Outcome.FAILED);
      throw refusal;
    } catch (RuntimeException failure) {
      bundles.watch().answered(kind, Outcome.FAILED);
      throw failure;
    }
  }

  private static Sent read(FhirRequest request) {
    OperationInput.of(request.withBody(Buffer.buffer()), Set.of());
    FhirBody body = FhirBody.read(request.body().getBytes());
    if (!body.type().equals("Bundle")) {
      throw FhirRefusal.of(
          400,
          IssueCode.BAD_RESOURCE,
          "",
          "The body is of type " + Shown.text(body.type()) + "; expected Bundle.");
    }
    Sent bundle = BundleReader.read(body.bytes());
    BundleRules.require(bundle);
    return bundle;
  }

  private HttpAnswer take(FhirRequest request, Sent bundle) {
    List<EntryAnswer> answers =
        bundle.type().equals("transaction")
            ? transaction(request, bundle.entries())
            : batch(request, bundle.entries());
    if (!answers.isEmpty()) {
      request.visit().written();
    }
    HttpAnswer answer = FhirAnswers.json(request, response(bundle.type(), answers));
    return PreferredReturn.of(request).map(one -> one.on(answer)).orElse(answer);
  }

  private List<EntryAnswer> transaction(FhirRequest request, List<BundleEntry> entries) {
    entries.stream()
        .filter(entry -> !entry.reads())
        .forEach(entry -> requireChange(request, entry));
    List<Entry> changes =
        entries.stream().filter(entry -> !entry.reads()).map(BundleEntry::change).toList();
    List<BundleEntry> reads = entries.stream().filter(BundleEntry::reads).toList();
    try {
      RecordBundle.Result<List<EntryAnswer>> result =
          bundles.take(
              changes,
              request.base(),
              request.now(),
              request.visit().origin(),
              state -> read(state, request, reads));
      tell(request, reads, result.read());
      return Stream.concat(
              result.answers().stream().map(one -> made(request, one)), result.read().stream())
          .sorted(Comparator.comparingInt(EntryAnswer::index))
          .toList();
    } catch (Refused refused) {
      throw new FhirRefusal(refused.status(), refused.issues());
    }
  }

  private void tell(FhirRequest request, List<BundleEntry> reads, List<EntryAnswer> answers) {
    EntryReads told = new EntryReads(others, request);
    for (int i = 0; i < reads.size(); i++) {
      told.tell(reads.get(i), answers.get(i).status());
    }
  }

  private List<EntryAnswer> read(Reading state, FhirRequest request, List<BundleEntry> entries) {
    EntryReads reads = new EntryReads(within.apply(new OneState(state)), request);
    return entries.stream()
        .map(entry -> EntryAnswer.of(entry.index(), reads.require(entry)))
        .toList();
  }

  private List<EntryAnswer> batch(FhirRequest request, List<BundleEntry> entries) {
    request.visit().did(AuditEntry.Interaction.BATCH);
    EntryReads reads = new EntryReads(others, request);
    List<EntryAnswer> answers = new ArrayList<>();
    for (BundleEntry entry : entries) {
      answers.add(answer(request, reads, entry));
    }
    return answers;
  }

  private EntryAnswer answer(FhirRequest request, EntryReads reads, BundleEntry entry) {
    List<Issue> faults = BundleRules.faults(entry);
    if (!faults.isEmpty()) {
      return told(request, entry, EntryAnswer.of(entry.index(), 400, faults));
    }
    return entry.reads()
        ? EntryAnswer.of(entry.index(), reads.answer(entry))
        : told(request, entry, change(request, entry));
  }

  private static EntryAnswer made(FhirRequest request, Answer answer) {
    return EntryAnswer.of(answer, request.base(), PreferredReturn.of(request));
  }

  private static void requireChange(FhirRequest request, BundleEntry entry) {
    FhirAccess.require(request.caller(), EntryNeeds.of(entry, request.base()));
  }

  private EntryAnswer change(FhirRequest request, BundleEntry entry) {
    try {
      requireChange(request, entry);
      RecordBundle.Result<String> result =
          bundles.take(
              List.of(entry.change()),
              request.base(),
              request.now(),
              request.visit().origin(),
              state -> "");
      return made(request, result.answers().get(0));
    } catch (Refused refused) {
      return EntryAnswer.of(entry.index(), refused.status(), refused.issues());
    } catch (FhirRefusal denied) {
      return EntryAnswer.of(entry.index(), denied.status(), denied.issues());
    } catch (StoreUnavailable away) {
      FaultLog.write("/fhir, the store being away", away);
      return failed(
          entry,
          503,
          StoreAway.code(away),
          StoreAway.sentence(away, "The store is away; send it again."));
    } catch (RuntimeException fault) {
      long number = FaultLog.write("/fhir, an entry of a batch", fault);
      return failed(
          entry,
          500,
          IssueCode.INTERNAL,
          "The service failed; its log has this as fault " + number + ".");
    }
  }

  /** What was done has its row already. */
  private static EntryAnswer told(FhirRequest request, BundleEntry entry, EntryAnswer answer) {
    if (answer.status() >= 400) {
      String path = entry.url().split("[?]", 2)[0];
      Visit part = request.visit().part(entry.method(), "/fhir/" + path, List.of());
      if (answer.status() == 401 || answer.status() == 403) {
        part.refused(IssueCode.SCOPE_MISSING);
      }
      part.end(answer.status(), request.now());
    }
    return answer;
  }

  private static EntryAnswer failed(
      BundleEntry entry, int status, IssueCode code, String sentence) {
    return EntryAnswer.of(entry.index(), status, List.of(Issue.error(code, "", sentence)));
  }

  private static String response(String type, List<EntryAnswer> answers) {
    return BundleJson.object(
        json -> {
          json.writeStringField("resourceType", "Bundle");
          json.writeStringField("type", type + "-response");
          if (!answers.isEmpty()) {
            json.writeArrayFieldStart("entry");
            for (EntryAnswer answer : answers) {
              answer.writeTo(json);
            }
            json.writeEndArray();
          }
        });
  }

  @Override
  public void describe(Capabilities capabilities) {
    capabilities.documentation(PreferredReturn.DOCUMENTATION);
    capabilities.interaction(SystemRestfulInteraction.TRANSACTION);
    capabilities.interaction(SystemRestfulInteraction.BATCH);
  }
}
