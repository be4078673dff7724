package indwell.web.fhir;

import indwell.domain.refusal.IssueCode;
import indwell.usecase.sent.CountSent;
import indwell.usecase.sent.CountSent.Answer;
import indwell.usecase.sent.CountSent.Counted;
import indwell.usecase.sent.CountSent.Unreadable;
import indwell.usecase.sent.CountSent.Wish;
import indwell.usecase.sent.Place;
import indwell.usecase.sent.SentResources;
import indwell.web.ByteBudget;
import indwell.web.HttpAnswer;
import java.util.List;
import java.util.Optional;

/**
 * Device days of resources in the body. What cannot be read refuses the request; a caller who
 * prefers {@code handling=lenient} has the rest counted and is told, unless the answer is CSV,
 * where nothing can be told.
 */
final class SentDeviceDays {
  /** Bytes of resources that one request may hold. */
  static final long MAX_KEPT_BYTES = 64L << 20;

  /** The same of all requests together. */
  private static final long KEPT_BUDGET = 128L << 20;

  private final CountSent countSent;
  private final DeviceDayReports reports;
  private final ByteBudget budget = new ByteBudget(KEPT_BUDGET);

  SentDeviceDays(CountSent countSent, DeviceDayReports reports) {
    this.countSent = countSent;
    this.reports = reports;
  }

  HttpAnswer answer(FhirRequest request, DeviceDayQuestion asked, SentResources sent) {
    boolean csv = request.format().equals(Negotiation.CSV);
    Wish wish = new Wish(asked.counted(), asked.needsPatients(), request.lenient() && !csv);
    Answer answer = countSent.count(sent, wish, request.now());
    if (answer instanceof Unreadable unreadable) {
      throw new FhirRefusal(422, unreadable.issues());
    }
    if (answer instanceof CountSent.Refused refused) {
      throw FhirRefusal.of(refused.issue());
    }
    Counted counted = (Counted) answer;
    return reports.answer(
        request,
        asked,
        new DeviceDayReports.Counted(
            counted.table(), counted.locations(), counted.issues(), counted.names()));
  }

  /** Takes an NDJSON body; only what counts is held of it. */
  LineTaker lines(FhirRequest request, DeviceDayQuestion asked) {
    return new Lines(request, asked);
  }

  private final class Lines implements LineTaker {
    private final FhirRequest request;
    private final DeviceDayQuestion asked;
    private final SentResources sent = new SentResources();
    private long held;

    Lines(FhirRequest request, DeviceDayQuestion asked) {
      this.request = request;
      this.asked = asked;
    }

    @Override
    public void take(int number, Optional<byte[]> line) {
      Place place = Place.line(number);
      if (line.isPresent()) {
        sent.add(place, Optional.empty(), line.get());
      } else {
        sent.addTooLarge(place);
      }
      hold(sent.keptBytes());
    }

    private void hold(long kept) {
      if (kept > MAX_KEPT_BYTES) {
        throw FhirRefusal.of(
            413,
            IssueCode.TOO_MUCH_SENT,
            "",
            "The resources that count have more than "
                + MAX_KEPT_BYTES
                + " bytes; expected at most that, of fewer months or of one ward.");
      }
      long more = kept - held;
      if (more > 0 && !budget.take(more)) {
        throw FhirRefusal.of(
            429,
            IssueCode.BUSY,
            "",
            "The service holds as much as it can; expected the request again later.");
      }
      if (more > 0) {
        held = kept;
      }
    }

    @Override
    public HttpAnswer answer() {
      return SentDeviceDays.this.answer(request, asked, sent);
    }

    @Override
    public void release() {
      budget.giveBack(held);
      held = 0;
    }
  }

  /** Media types that mean NDJSON. */
  static final List<String> NDJSON =
      List.of("application/fhir+ndjson", "application/x-ndjson", "application/ndjson");
}
