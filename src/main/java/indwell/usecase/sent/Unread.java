package indwell.usecase.sent;

import indwell.domain.refusal.Issue;
import indwell.domain.refusal.Issue.Severity;
import indwell.domain.refusal.IssueCode;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.SortedMap;
import java.util.TreeMap;

/** What of all that was sent did not go into the count, and why; so much of it as can be told. */
final class Unread {
  /** So many are named; of further ones only the number is told. */
  static final int MOST_NAMED = 100;

  private static final int MOST_EXAMPLES = 5;

  private final List<Issue> unreadable = new ArrayList<>();
  private long unreadableMore;
  private final List<Issue> doubts = new ArrayList<>();
  private long doubtsMore;
  private final SortedMap<String, Long> otherTypes = new TreeMap<>();
  private final Map<Why, Silent> silent = new LinkedHashMap<>();

  private record Why(String type, String why) {}

  /** Resources of one type that say nothing, for one reason. */
  private static final class Silent {
    private long many;
    private final List<String> examples = new ArrayList<>();
  }

  /**
   * Something that is about what is counted and cannot be read.
   *
   * @param name of it, {@code Procedure/abc (line 12)}
   */
  void add(String name, Issue issue) {
    if (unreadable.size() < MOST_NAMED) {
      unreadable.add(
          Issue.error(
              issue.code(),
              issue.expression(),
              upper(name) + " cannot be counted: " + issue.diagnostics()));
    } else {
      unreadableMore++;
    }
  }

  /** Something that was counted, and is doubtful. */
  void doubt(Issue warning) {
    if (doubts.size() < MOST_NAMED) {
      doubts.add(warning);
    } else {
      doubtsMore++;
    }
  }

  /** Something of a type that nothing is counted from. */
  void passOver(String type) {
    otherTypes.merge(type, 1L, Long::sum);
  }

  /** Something of a type that can say what is counted, and does not. */
  void saysNothing(SentResource sent, String why) {
    Silent one = silent.computeIfAbsent(new Why(sent.type(), why), none -> new Silent());
    one.many++;
    if (one.examples.size() < MOST_EXAMPLES) {
      one.examples.add(sent.reference());
    }
  }

  boolean isReadable() {
    return unreadable.isEmpty();
  }

  /** What could not be read. */
  List<Issue> refusals() {
    List<Issue> all = new ArrayList<>(unreadable);
    if (unreadableMore > 0) {
      all.add(more(unreadableMore, "cannot be counted"));
    }
    return all;
  }

  /** All of it as warnings. */
  List<Issue> warnings() {
    List<Issue> all = new ArrayList<>();
    refusals()
        .forEach(one -> all.add(Issue.warning(one.code(), one.expression(), one.diagnostics())));
    all.addAll(doubts);
    if (doubtsMore > 0) {
      all.add(more(doubtsMore, "are doubtful"));
    }
    otherTypes.forEach(
        (type, many) -> all.add(passedOver(many, type, "no day follows from that type", "")));
    silent.forEach(
        (what, one) -> all.add(passedOver(one.many, what.type(), what.why(), examples(one))));
    return all;
  }

  private static Issue passedOver(long many, String type, String why, String examples) {
    return Issue.warning(
        IssueCode.NOTHING_TO_COUNT,
        "",
        "Passed over " + many + " of type " + type + ", since " + why + examples + ".");
  }

  private static String examples(Silent one) {
    long further = one.many - one.examples.size();
    return ": "
        + String.join(", ", one.examples)
        + (further > 0 ? " and " + further + " more" : "");
  }

  private static Issue more(long many, String what) {
    return new Issue(
        Severity.WARNING,
        IssueCode.MORE_NOT_NAMED,
        "Beside these, " + many + " more resources " + what + ".",
        "");
  }

  private static String upper(String name) {
    return Character.toUpperCase(name.charAt(0)) + name.substring(1);
  }
}
