package indwell.domain.candidate;

import indwell.domain.rule.Trace;
import java.time.LocalDate;
import java.util.Optional;

/**
 * One thing that a criterion asks for, and whether it was there.
 *
 * @param on when it was; empty for what has no date or was not there
 * @param trace the rule that decided, in a sentence, and the events used
 */
public record Element(ElementKind kind, boolean met, Optional<LocalDate> on, Trace trace) {}
