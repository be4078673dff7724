package indwell.adapter.store.postgres;

import indwell.adapter.store.jdbc.FoundBy;
import indwell.adapter.store.jdbc.FoundBy.Found;
import indwell.adapter.store.jdbc.Insert;
import indwell.fhir.search.SearchValue.Coded;
import indwell.fhir.search.SearchValue.Dated;

/** A row of table {@code found_by}, worked out in one go: an event has several. */
final class FoundRow {
  static final Insert<FoundRow> INSERT =
      Insert.<FoundRow>into("found_by")
          .text("reference", row -> row.reference)
          .converted("looked_up", "TEXT[]", row -> row.lookedUp.finished())
          .converted("looked_at", "TEXT[]", row -> row.lookedAt.finished())
          .converted("tokens", "TEXT[]", row -> row.tokens.finished())
          .converted("times", "TEXT[]", row -> row.times.finished())
          .converted("lows", "BIGINT[]", row -> row.lows.finished())
          .converted("highs", "BIGINT[]", row -> row.highs.finished())
          .number("first", row -> row.first)
          .number("last", row -> row.last);

  /** The parameter of when something was written, which may be years after it was done. */
  static final String RECORDED = "recorded";

  private final String reference;
  private final ArrayText lookedUp = new ArrayText();
  private final ArrayText lookedAt = new ArrayText();
  private final ArrayText tokens = new ArrayText();
  private final ArrayText times = new ArrayText();
  private final ArrayText lows = new ArrayText();
  private final ArrayText highs = new ArrayText();
  private long first = Long.MAX_VALUE;
  private long last = Long.MIN_VALUE;

  private FoundRow(String reference) {
    this.reference = reference;
  }

  /** What a resource is found by; its row is written once. */
  static FoundRow of(Found found) {
    FoundRow row = new FoundRow(found.reference());
    found.codes().filter(code -> !isShared(code)).forEach(code -> row.add(row.lookedUp, code));
    found.identifiers().forEach(identifier -> row.add(row.lookedUp, identifier));
    found.codes().filter(FoundRow::isShared).forEach(code -> row.add(row.lookedAt, code));
    found.times().forEach(row::add);
    return row;
  }

  private static boolean isShared(Coded code) {
    return FoundBy.SHARED_BY_MANY.contains(code.parameter());
  }

  /** The tokens stand in the order of the names, those that are looked up before the others. */
  private void add(ArrayText names, Coded code) {
    names.add(name(code.parameter(), code.value()));
    tokens.add(code.system().isEmpty() ? "" : token(code.parameter(), code.system(), code.value()));
  }

  private void add(Dated time) {
    times.add(time.parameter());
    lows.add(time.low());
    highs.add(time.high());
    if (!time.parameter().equals(RECORDED)) {
      // The end of a stretch may stand before its start.
      first = Math.min(first, Math.min(time.low(), time.high()));
      last = Math.max(last, Math.max(time.low(), time.high()));
    }
  }

  static String name(String parameter, String value) {
    return parameter + "=" + value;
  }

  static String token(String parameter, String system, String value) {
    return parameter + "=" + system + "|" + value;
  }
}
