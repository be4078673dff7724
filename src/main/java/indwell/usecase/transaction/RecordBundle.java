package indwell.usecase.transaction;

import indwell.domain.event.EventKey;
import indwell.fhir.map.MappingContext;
import indwell.port.AuditEntry.Origin;
import indwell.port.ClinicalStore;
import indwell.port.ClinicalStore.Reading;
import indwell.port.ProfileValidator;
import indwell.usecase.transaction.Preparation.Prepared;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.Collection;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.function.Function;

/**
 * Takes the resources of a FHIR transaction: they become the events that make them, and these are
 * recorded all together or not at all. Safe for use by many threads.
 *
 * <p>Source: https://hl7.org/fhir/R4/http.html#transaction
 */
public final class RecordBundle {
  private static final int ATTEMPTS = 8;

  private final ClinicalStore store;
  private final ProfileValidator validator;
  private final ProfileValidator ownResources;
  private final MappingContext context;
  private final BundleWatch watch;

  /** That nobody watches. */
  public RecordBundle(
      ClinicalStore store,
      ProfileValidator validator,
      ProfileValidator ownResources,
      MappingContext context) {
    this(store, validator, ownResources, context, BundleWatch.NOBODY);
  }

  /**
   * @param validator for what is sent
   * @param ownResources for what is made of it; may remember what it has validated
   * @param watch is told of Bundles by whoever answers them
   */
  public RecordBundle(
      ClinicalStore store,
      ProfileValidator validator,
      ProfileValidator ownResources,
      MappingContext context,
      BundleWatch watch) {
    this.store = store;
    this.validator = validator;
    this.ownResources = ownResources;
    this.context = context;
    this.watch = watch;
  }

  /** Who is to be told what became of a Bundle. */
  public BundleWatch watch() {
    return watch;
  }

  /**
   * What became of a transaction.
   *
   * @param answers one for each entry, in the order of their places
   * @param read what was read in the state that the transaction left
   */
  public record Result<T>(List<Answer> answers, T read) {
    public Result {
      answers = List.copyOf(answers);
    }
  }

  /**
   * Takes all entries, or none.
   *
   * @param base absolute URL of the FHIR interface as the caller knows it
   * @param now the time of receipt
   * @param origin who sent them, for the audit trail
   * @param reads reads the state that the entries leave, within the same transaction; what it
   *     throws ends the transaction
   * @throws Refused when one of them cannot be taken; nothing is written then
   */
  public <T> Result<T> take(
      List<Entry> entries, String base, Instant now, Origin origin, Function<Reading, T> reads) {
    Prepared prepared =
        store.read(state -> new Preparation(validator, base).prepare(entries, state));
    Instant received = now.truncatedTo(ChronoUnit.MILLIS);
    Set<EventKey> further = new TreeSet<>();
    for (int attempt = 1; ; attempt++) {
      try {
        return store.write(
            tx -> {
              BundleWrite write =
                  new BundleWrite(tx, ownResources, context, tx.time(received), prepared, further);
              List<Answer> answers = write.run();
              tx.audit(BundleRows.of(tx, prepared, answers, origin, received));
              return new Result<>(answers, reads.apply(tx));
            });
      } catch (MoreEvents more) {
        if (attempt == ATTEMPTS) {
          throw more;
        }
        further.addAll(more.keys());
      }
    }
  }

  /** Events turned out to be concerned that are not held; the transaction has to begin anew. */
  static final class MoreEvents extends RuntimeException {
    private static final long serialVersionUID = 1L;

    private final transient Set<EventKey> keys;

    MoreEvents(Collection<EventKey> keys) {
      super("Events are concerned that are not held", null, false, false);
      this.keys = Set.copyOf(keys);
    }

    Set<EventKey> keys() {
      return keys;
    }
  }
}
