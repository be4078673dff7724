package indwell.usecase;

import indwell.domain.event.Ward;
import indwell.domain.rule.AllRules;
import indwell.domain.rule.Bedside;
import indwell.domain.rule.FlagSpan;
import indwell.domain.rule.OwnSettings;
import indwell.domain.rule.RuleSettings;
import indwell.domain.time.Span;
import indwell.domain.timeline.Timeline;
import indwell.domain.timeline.WardStay;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.NavigableSet;
import java.util.Optional;
import java.util.TreeSet;

/**
 * Which limits hold for a patient when: those of the ward that the patient is in, by what the ward
 * had set for that date. The flags of all times are found piece by piece, each by its own limits,
 * so that a limit set today changes no flag of yesterday.
 */
final class SettingsTimes {
  private SettingsTimes() {}

  /** A time and the limits in it. */
  private record Piece(Instant from, RuleSettings settings) {}

  /** Every flag that a patient's catheters raise, ever. */
  static List<FlagSpan> spans(HouseRules house, Timeline timeline) {
    List<Piece> pieces = pieces(house, timeline);
    List<FlagSpan> spans = new ArrayList<>();
    for (int i = 0; i < pieces.size(); i++) {
      Optional<Instant> end =
          i + 1 < pieces.size() ? Optional.of(pieces.get(i + 1).from()) : Optional.empty();
      Span held = new Span(pieces.get(i).from(), end);
      Bedside bedside = new Bedside(timeline, pieces.get(i).settings(), house.calendar());
      AllRules.spans(bedside).forEach(span -> spans.add(span.decidedIn(held)));
    }
    return spans;
  }

  private static List<Piece> pieces(HouseRules house, Timeline timeline) {
    List<Piece> pieces = new ArrayList<>();
    for (Instant from : changes(house, timeline)) {
      RuleSettings settings =
          from.equals(Instant.MIN)
              ? house.facility().rules()
              : house.rules(timeline.wardAt(from).map(WardStay::ward), from);
      boolean same = !pieces.isEmpty() && pieces.get(pieces.size() - 1).settings().equals(settings);
      if (!same) {
        pieces.add(new Piece(from, settings));
      }
    }
    return pieces;
  }

  /** Each instant at which other limits may begin to hold, the first one included. */
  private static NavigableSet<Instant> changes(HouseRules house, Timeline timeline) {
    NavigableSet<Instant> changes = new TreeSet<>(List.of(Instant.MIN));
    for (WardStay stay : timeline.wards()) {
      changes.add(stay.span().start());
      stay.span().end().ifPresent(changes::add);
      changesOf(house, stay.ward()).stream().filter(stay.span()::holds).forEach(changes::add);
    }
    return changes;
  }

  private static List<Instant> changesOf(HouseRules house, Ward ward) {
    return house.historyOf(ward).entries().stream()
        .map(OwnSettings::from)
        .map(house.calendar()::startOf)
        .toList();
  }
}
