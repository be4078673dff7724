package indwell.web.ward;

import indwell.domain.event.CareItem;
import indwell.domain.event.Indication;
import indwell.domain.event.StatedIndication;
import indwell.domain.event.Ward;
import indwell.domain.rule.Attention;
import indwell.domain.rule.FlagCode;
import indwell.domain.rule.FlagSpan;
import indwell.fhir.map.ResourceId;
import indwell.fhir.term.BedsideTerms;
import indwell.usecase.WardBoard.Board;
import indwell.usecase.WardBoard.Row;
import indwell.web.page.FormSeal.Sealed;
import indwell.web.page.FormText;
import indwell.web.page.Moments;
import indwell.web.page.Whys;
import indwell.web.page.Words;
import indwell.web.ward.BoardView.Choice;
import indwell.web.ward.BoardView.Counts;
import indwell.web.ward.BoardView.Due;
import indwell.web.ward.BoardView.Entry;
import indwell.web.ward.BoardView.Filter;
import indwell.web.ward.BoardView.Hand;
import indwell.web.ward.BoardView.Link;
import indwell.web.ward.BoardView.Option;
import indwell.web.ward.BoardView.Recording;
import indwell.web.ward.BoardView.Told;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.Stream;

/** Puts a board into words, in the zone of the facility. */
final class BoardViews {
  private final Moments moments;
  private final Whys whys;

  BoardViews(Moments moments) {
    this.moments = moments;
    this.whys = new Whys(moments);
  }

  /**
   * The page.
   *
   * @param seals seals the forms about a catheter, by what they are about
   */
  BoardView view(
      Board board,
      BoardFilter filter,
      Recording recording,
      List<Told> told,
      Function<String, Sealed> seals) {
    List<Row> shown = board.rows().stream().filter(filter::shows).toList();
    return new BoardView(
        filter.ward().map(Ward::code).orElse(""),
        choices(board, filter),
        counts(board.rows()),
        filter(filter),
        shown.stream().map(row -> row(row, board.computedAt(), filter, seals)).toList(),
        board.rows().size() - shown.size(),
        recording,
        told,
        links(board, filter));
  }

  private static List<Choice> choices(Board board, BoardFilter filter) {
    List<Choice> choices = new ArrayList<>();
    choices.add(
        new Choice("All wards", filter.in(Optional.empty()).address(), filter.ward().isEmpty()));
    for (Ward ward : board.wards()) {
      Optional<Ward> one = Optional.of(ward);
      choices.add(new Choice(ward.code(), filter.in(one).address(), filter.ward().equals(one)));
    }
    return choices;
  }

  private static Counts counts(List<Row> rows) {
    List<Hand> hands = new ArrayList<>();
    for (Attention attention : Attention.values()) {
      int needing =
          (int)
              rows.stream()
                  .filter(
                      row ->
                          row.flags().stream()
                              .anyMatch(flag -> Attention.of(flag.code()) == attention))
                  .count();
      hands.add(hand(attention, needing));
    }
    int inPlace = (int) rows.stream().filter(Row::inPlace).count();
    return new Counts(
        inPlace,
        rows.size() - inPlace,
        (int) rows.stream().filter(row -> !row.flags().isEmpty()).count(),
        hands);
  }

  private static Hand hand(Attention attention, int rows) {
    return new Hand(attention.name().toLowerCase(Locale.ROOT), attention.words(), rows);
  }

  private static Filter filter(BoardFilter filter) {
    List<Option> flags =
        Stream.of(FlagCode.values())
            .map(code -> new Option(code.code(), code.display(), filter.flags().contains(code)))
            .toList();
    return new Filter(
        filter.path(),
        flags,
        filter.overdueOnly(),
        filter.withinHours(),
        filter.showingAll().address(),
        filter.leavesOut());
  }

  /** The same for programs: what is in force now, and at the end of the look ahead. */
  private List<Link> links(Board board, BoardFilter filter) {
    String ward = filter.ward().map(one -> "&ward=" + FormText.encode(one.code())).orElse("");
    List<Link> links = new ArrayList<>();
    links.add(new Link("what is due now", "/fhir/$overdue?asOf=" + board.computedAt() + ward));
    if (board.horizon().isAfter(board.computedAt())) {
      links.add(
          new Link(
              "what will be by the end of the look ahead",
              "/fhir/$overdue?asOf=" + board.horizon() + ward));
    }
    return links;
  }

  private BoardView.Row row(
      Row row, Instant now, BoardFilter filter, Function<String, Sealed> seals) {
    ResourceId device = ResourceId.device(row.patient(), row.catheter().catheter());
    return new BoardView.Row(
        "c-" + device.id(),
        device.id(),
        row.patient().value(),
        "/patients/" + ResourceId.patient(row.patient()).id(),
        row.ward().map(Ward::code).orElse("outside any ward"),
        row.day().value(),
        "Calendar days in place; day 1 is the date of the insertion, event "
            + row.catheter().placedBy().key().token()
            + ".",
        moments.near(row.catheter().start(), now),
        "/insertions/" + ResourceId.mainOf(row.catheter().placedBy()).id(),
        Words.of(row.catheter().placing()),
        Words.of(row.indication()),
        !row.inPlace(),
        due(row.flags(), now),
        due(row.coming(), now),
        row.inPlace() ? List.of(entry(row, filter, seals)) : List.of());
  }

  private List<Due> due(List<FlagSpan> flags, Instant now) {
    return flags.stream()
        .sorted(Comparator.comparing((FlagSpan flag) -> Attention.of(flag.code())))
        .map(flag -> due(flag, now))
        .toList();
  }

  private Due due(FlagSpan flag, Instant now) {
    return new Due(
        hand(Attention.of(flag.code()), 1),
        flag.code().code(),
        flag.code().display(),
        moments.near(flag.since(), now),
        Moments.length(Duration.between(flag.since(), now).abs()),
        whys.of(flag.trace(), now));
  }

  private static Entry entry(Row row, BoardFilter filter, Function<String, Sealed> seals) {
    String patientId = ResourceId.patient(row.patient()).id();
    String catheter = row.catheter().catheter().value();
    StatedIndication latest = row.indication();
    return new Entry(
        filter.formAddress(EntryForms.RECORD),
        seals.apply(EntryForms.aboutCatheter(patientId, catheter)),
        patientId,
        catheter,
        Stream.of(Indication.values())
            .map(one -> new Option(one.code(), Words.of(one), one == latest.code()))
            .toList(),
        latest.text().orElse(""),
        Stream.of(CareItem.values())
            .map(one -> new Option(one.code(), BedsideTerms.of(one).display(), true))
            .toList());
  }
}
