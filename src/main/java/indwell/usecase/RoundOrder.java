package indwell.usecase;

import indwell.domain.rule.Attention;
import indwell.domain.rule.FlagSpan;
import indwell.usecase.WardBoard.Row;
import java.time.Instant;
import java.util.Comparator;

/**
 * The order of a round: by the most pressing kind of hand that is needed ({@link Attention}), then
 * by how long that has been so, then by how much else is due; then by what comes due first; last
 * what needs nothing, the longest in place first.
 */
final class RoundOrder {
  static final Comparator<Row> FIRST_HAND_FIRST =
      Comparator.comparing((Row row) -> row.flags().isEmpty())
          .thenComparing(RoundOrder::mostPressing)
          .thenComparing(RoundOrder::since)
          .thenComparing(row -> -row.flags().size())
          .thenComparing(RoundOrder::firstToCome)
          .thenComparing(row -> row.catheter().start())
          .thenComparing(Row::patient)
          .thenComparing(row -> row.catheter().catheter());

  private RoundOrder() {}

  private static Attention mostPressing(Row row) {
    return row.flags().stream()
        .map(flag -> Attention.of(flag.code()))
        .min(Comparator.naturalOrder())
        .orElse(Attention.RECORD);
  }

  private static Instant since(Row row) {
    Attention pressing = mostPressing(row);
    return row.flags().stream()
        .filter(flag -> Attention.of(flag.code()) == pressing)
        .map(FlagSpan::since)
        .min(Comparator.naturalOrder())
        .orElse(Instant.MAX);
  }

  private static Instant firstToCome(Row row) {
    return row.coming().stream()
        .map(FlagSpan::since)
        .min(Comparator.naturalOrder())
        .orElse(Instant.MAX);
  }
}
