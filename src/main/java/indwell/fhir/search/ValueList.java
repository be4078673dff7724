package indwell.fhir.search;

import ca.uhn.fhir.model.api.TemporalPrecisionEnum;
import indwell.fhir.search.SearchValue.Coded;
import indwell.fhir.search.SearchValue.Dated;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.hl7.fhir.r4.model.BaseDateTimeType;
import org.hl7.fhir.r4.model.CodeableConcept;
import org.hl7.fhir.r4.model.Coding;
import org.hl7.fhir.r4.model.Enumeration;
import org.hl7.fhir.r4.model.Period;
import org.hl7.fhir.r4.model.Reference;
import org.hl7.fhir.r4.model.Type;
import org.jspecify.annotations.Nullable;

/** Collects values by the kinds of element that hold them; what is not there adds nothing. */
final class ValueList {
  private static final long SECOND = 1_000;

  private final List<SearchValue> values = new ArrayList<>();

  List<SearchValue> distinct() {
    return values.stream().distinct().toList();
  }

  /** A code whose system the element itself implies. */
  ValueList code(String parameter, @Nullable Enumeration<? extends Enum<?>> element) {
    if (element != null && element.getCode() != null) {
      values.add(new Coded(parameter, text(element.getSystem()), element.getCode()));
    }
    return this;
  }

  ValueList coding(String parameter, @Nullable Coding coding) {
    if (coding != null && coding.hasCode()) {
      values.add(new Coded(parameter, text(coding.getSystem()), coding.getCode()));
    }
    return this;
  }

  ValueList concept(String parameter, @Nullable CodeableConcept concept) {
    if (concept != null) {
      concept.getCoding().forEach(coding -> coding(parameter, coding));
    }
    return this;
  }

  /** A literal reference, kept relative. */
  ValueList reference(String parameter, @Nullable Type element) {
    if (element instanceof Reference reference && reference.hasReference()) {
      values.add(new Coded(parameter, "", reference.getReference()));
    }
    return this;
  }

  /** A name that is compared as it is written. */
  ValueList identity(String parameter, @Nullable String text) {
    if (text != null) {
      values.add(new Coded(parameter, "", text));
    }
    return this;
  }

  ValueList text(String parameter, @Nullable String text) {
    if (text != null) {
      values.add(new Coded(parameter, "", text.toLowerCase(Locale.ROOT)));
    }
    return this;
  }

  /** A time as long as its precision, or a period; an open end is open. */
  ValueList time(String parameter, @Nullable Type element) {
    if (element instanceof Period period && (period.hasStart() || period.hasEnd())) {
      long low = period.hasStart() ? low(period.getStartElement()) : Long.MIN_VALUE;
      long high = period.hasEnd() ? high(period.getEndElement()) : Long.MAX_VALUE;
      values.add(new Dated(parameter, low, high));
    } else if (element instanceof BaseDateTimeType time && time.hasValue()) {
      values.add(new Dated(parameter, low(time), high(time)));
    }
    return this;
  }

  private static long low(BaseDateTimeType time) {
    return time.getValue().toInstant().toEpochMilli();
  }

  /** All times that Indwell writes have seconds or milliseconds. */
  private static long high(BaseDateTimeType time) {
    boolean seconds = time.getPrecision() == TemporalPrecisionEnum.SECOND;
    return low(time) + (seconds ? SECOND : 1);
  }

  private static String text(@Nullable String text) {
    return text == null ? "" : text;
  }
}
