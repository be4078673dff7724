package indwell.boot.cli;

import static java.nio.charset.StandardCharsets.ISO_8859_1;

import indwell.domain.refusal.IssueCode;
import indwell.intake.GateFinding;
import indwell.intake.GateLimits;
import indwell.intake.GateResult;
import indwell.intake.JsonGate;
import indwell.port.ProfileValidator;
import indwell.port.ProfileValidator.Finding;
import indwell.port.ProfileValidator.Place;
import indwell.port.ProfileValidator.Severity;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;

/** Looks at the raw bytes first, then validates what they hold. Any text gets an answer. */
final class ResourceJudge {
  private static final GateLimits LIMITS = GateLimits.forOneDocument(100, SentText.MOST_BYTES);
  private static final String BYTE_ORDER_MARK = "\u00ef\u00bb\u00bf";
  private static final Pattern PLACE = Pattern.compile(" at line (\\d+), column (\\d+)");

  private final ProfileValidator validator;
  private final List<String> profiles;

  /**
   * @param profiles that every resource has to meet beside those that it claims
   */
  ResourceJudge(ProfileValidator validator, List<String> profiles) {
    this.validator = validator;
    this.profiles = profiles;
  }

  Judged judge(SentText text) {
    return text.bytes()
        .map(bytes -> judge(text, bytes))
        .orElseGet(
            () ->
                unread(
                    text,
                    IssueCode.DOCUMENT_TOO_LARGE,
                    "The text is larger than "
                        + SentText.MOST_BYTES
                        + " bytes; expected at most that"
                        + (text.ofLines() ? "." : ", or one resource a line (NDJSON).")));
  }

  private Judged judge(SentText text, byte[] bytes) {
    String head = new String(bytes, 0, Math.min(bytes.length, 512), ISO_8859_1);
    if (head.startsWith(BYTE_ORDER_MARK)) {
      return behindMark(text, Arrays.copyOfRange(bytes, BYTE_ORDER_MARK.length(), bytes.length));
    }
    if (head.isBlank()) {
      return unread(
          text, IssueCode.NOTHING_THERE, "The file is empty; expected one FHIR resource as JSON.");
    }
    if (head.stripLeading().startsWith("<")) {
      return unread(
          text, IssueCode.XML_NOT_READ, "The text is XML; expected a FHIR resource as JSON.");
    }
    return wellFormed(text, bytes);
  }

  private Judged behindMark(SentText text, byte[] rest) {
    Judged judged = judge(text, rest);
    List<Finding> findings = new ArrayList<>();
    findings.add(
        fatal(
            IssueCode.BYTE_ORDER_MARK,
            "The text begins with a byte order mark; expected UTF-8 without one.",
            Optional.of(Judged.inFile(new Place(1, 1), text))));
    findings.addAll(judged.findings());
    return new Judged(
        text.file(), text.line(), judged.type(), judged.id(), judged.profiles(), findings);
  }

  private Judged wellFormed(SentText text, byte[] bytes) {
    GateResult gate = JsonGate.read(withoutEnd(bytes), LIMITS);
    if (gate instanceof GateResult.Stopped stopped) {
      return stopped(text, stopped);
    }
    GateResult.Tree tree = (GateResult.Tree) gate;
    if (!(tree.root() instanceof Map<?, ?> resource)) {
      return unread(
          text,
          IssueCode.BAD_RESOURCE,
          "The text is "
              + (tree.root() instanceof List ? "an array" : "a single value")
              + "; expected one FHIR resource, an object with a resourceType.");
    }
    List<Finding> findings =
        tree.findings().isEmpty()
            ? validated(text, bytes)
            : tree.findings().stream().map(ResourceJudge::fault).toList();
    return new Judged(
        text.file(),
        text.line(),
        string(resource.get("resourceType")),
        string(resource.get("id")),
        claimed(resource),
        findings);
  }

  /** Without the line end of a text that was cut off, the gate sees that it was. */
  private static byte[] withoutEnd(byte[] bytes) {
    int end = bytes.length;
    while (end > 0 && bytes[end - 1] >= 0 && bytes[end - 1] <= ' ') {
      end--;
    }
    return Arrays.copyOf(bytes, end);
  }

  /** The gate tells the place within its sentence; here it stands in front of it. */
  private static Judged stopped(SentText text, GateResult.Stopped stopped) {
    Matcher place = PLACE.matcher(stopped.sentence());
    Optional<Place> where =
        place.find()
            ? Optional.of(new Place(number(place.group(1)), number(place.group(2))))
            : Optional.empty();
    return Judged.unread(
        text.file(),
        text.line(),
        fatal(stopped.code(), place.replaceAll(""), where.map(one -> Judged.inFile(one, text))));
  }

  private static int number(String digits) {
    // Of texts that fit into memory neither lines nor columns are more than an int holds.
    return Integer.parseInt(digits);
  }

  private static Finding fault(GateFinding one) {
    return new Finding(
        Severity.FATAL,
        one.code().fhirIssueType(),
        one.path(),
        one.code().code() + ": " + one.sentence());
  }

  private List<Finding> validated(SentText text, byte[] bytes) {
    try {
      return validator.validate(bytes, profiles).stream()
          .map(
              one ->
                  new Finding(
                      one.severity(),
                      one.code(),
                      one.expression(),
                      one.message(),
                      one.rule(),
                      one.place().map(place -> Judged.inFile(place, text))))
          .toList();
    } catch (RuntimeException | StackOverflowError defect) {
      // The library chokes on what nobody thought of; the other resources are validated all the
      // same, and the caller learns which one it was.
      return List.of(
          fatal(
              IssueCode.INTERNAL,
              "The validator failed at this resource ("
                  + defect.getClass().getSimpleName()
                  + "), a fault of Indwell; nothing more is known of it.",
              Optional.empty()));
    }
  }

  private static Judged unread(SentText text, IssueCode code, String sentence) {
    return Judged.unread(text.file(), text.line(), fatal(code, sentence, Optional.empty()));
  }

  /** A finding with one of our own codes. */
  static Finding fatal(IssueCode code, String sentence, Optional<Place> place) {
    return new Finding(
        Severity.FATAL,
        code.fhirIssueType(),
        "",
        code.code() + ": " + sentence,
        Optional.empty(),
        place);
  }

  private static List<String> claimed(Map<?, ?> resource) {
    return resource.get("meta") instanceof Map<?, ?> meta
            && meta.get("profile") instanceof List<?> claimed
        ? claimed.stream().map(ResourceJudge::string).filter(one -> !one.isEmpty()).toList()
        : List.of();
  }

  private static String string(@Nullable Object value) {
    return value instanceof String text ? text : "";
  }
}
