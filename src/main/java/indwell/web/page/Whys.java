package indwell.web.page;

import indwell.domain.event.BedsideEvent;
import indwell.domain.rule.Trace;
import indwell.web.page.Why.Fact;
import indwell.web.page.Why.Piece;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.format.DateTimeParseException;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** Puts traces into words. */
public final class Whys {
  /** Times as the rules write them into their sentences. */
  private static final Pattern TIME =
      Pattern.compile(
          "\\d{4}-\\d\\d-\\d\\dT\\d\\d:\\d\\d(?::\\d\\d(?:\\.\\d+)?)?(?:Z|[+-]\\d\\d:\\d\\d)");

  private final Moments moments;

  /** With times as these moments tell them. */
  public Whys(Moments moments) {
    this.moments = moments;
  }

  /** Why a rule said what it said. */
  public Why of(Trace trace, Instant now) {
    return new Why(
        pieces(trace.finding(), now),
        trace.rule().id(),
        trace.source(),
        trace.facts().stream().map(fact -> fact(fact, now)).toList());
  }

  /** The event as a fact. */
  public Fact fact(BedsideEvent event, Instant now) {
    return new Fact(Words.of(event.type()), moments.near(event.at(), now), event.key().token());
  }

  /** A sentence with the times in it told as a ward tells them. */
  public List<Piece> pieces(String sentence, Instant now) {
    List<Piece> pieces = new ArrayList<>();
    Matcher times = TIME.matcher(sentence);
    int from = 0;
    while (times.find()) {
      pieces.add(piece(sentence.substring(from, times.start()), times.group(), now));
      from = times.end();
    }
    pieces.add(new Piece(sentence.substring(from), List.of()));
    return pieces;
  }

  private Piece piece(String before, String written, Instant now) {
    try {
      Instant at = OffsetDateTime.parse(written).toInstant();
      return new Piece(before, List.of(moments.near(at, now)));
    } catch (DateTimeParseException noTime) {
      return new Piece(before + written, List.of());
    }
  }
}
