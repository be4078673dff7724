package indwell.web.ward;

import indwell.domain.event.CareItem;
import indwell.domain.event.CatheterId;
import indwell.domain.event.Indication;
import indwell.domain.event.StatedIndication;
import indwell.domain.refusal.IssueCode;
import indwell.usecase.EnterAtBedside.Check;
import indwell.usecase.EnterAtBedside.Entry;
import indwell.usecase.EnterAtBedside.Form;
import indwell.usecase.EnterAtBedside.Review;
import indwell.usecase.EnterAtBedside.Securement;
import indwell.web.page.Browsers;
import indwell.web.page.PageRefusal;
import indwell.web.page.PageRequest;
import indwell.web.page.Recorders;
import indwell.web.page.Shortened;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** Reads the forms of the ward page. */
final class EntryForms {
  /** Last part of the address that entries are sent to. */
  static final String RECORD = "record";

  /** Last part of the address that an entry is taken back at. */
  static final String TAKE_BACK = "take-back";

  static final String STILL_NEEDED = "still-needed";
  static final String NOT_NEEDED = "not-needed";
  static final String SECUREMENT = "securement-changed";
  static final String CARE_CHECK = "care-checked";

  private final Browsers browsers;
  private final Recorders recorders;

  EntryForms(Browsers browsers, Recorders recorders) {
    this.browsers = browsers;
    this.recorders = recorders;
  }

  /** What the forms about a catheter are sealed for. */
  static String aboutCatheter(String patientId, String catheter) {
    return "catheter " + patientId + " " + catheter;
  }

  /** What the form that takes an entry back is sealed for. */
  static String aboutEntry(String eventId) {
    return "entry " + eventId;
  }

  /** What the form that says who records is sealed for. */
  static String aboutRecorder() {
    return "recorder";
  }

  /** An entry about a catheter. */
  Form entry(PageRequest request) {
    String patientId = request.requiredField("patient");
    String catheter = request.requiredField("catheter");
    String number = browsers.taken(request, aboutCatheter(patientId, catheter));
    return new Form(
        number,
        patientId,
        new CatheterId(catheter),
        entryOf(request),
        recorders.of(request).orElseThrow(EntryForms::nobody));
  }

  static PageRefusal nobody() {
    return PageRefusal.of(
        IssueCode.NO_RECORDER, "Nobody has said who is recording; expected a staff number.");
  }

  private static Entry entryOf(PageRequest request) {
    String act = request.requiredField("act");
    return switch (act) {
      case STILL_NEEDED -> new Review(true, Optional.of(indication(request)));
      case NOT_NEEDED -> new Review(false, Optional.empty());
      case SECUREMENT -> new Securement(request.field("site"));
      case CARE_CHECK -> new Check(items(request));
      default ->
          throw PageRefusal.of(
              IssueCode.BAD_FORM,
              "Act \""
                  + Shortened.text(act)
                  + "\" is none of the form; expected "
                  + String.join(", ", List.of(STILL_NEEDED, NOT_NEEDED, SECUREMENT, CARE_CHECK))
                  + ".");
    };
  }

  private static StatedIndication indication(PageRequest request) {
    String code = request.requiredField("indication");
    Indication indication =
        Indication.ofCode(code)
            .orElseThrow(
                () ->
                    PageRefusal.of(
                        IssueCode.BAD_FORM,
                        "Indication \""
                            + Shortened.text(code)
                            + "\" is unknown; expected one of the list."));
    return new StatedIndication(indication, request.field("indicationText"));
  }

  /** A box that is not ticked is not sent: what it stands for was not in order. */
  private static Map<CareItem, Boolean> items(PageRequest request) {
    List<String> ticked = request.form().getOrDefault("item", List.of());
    Map<CareItem, Boolean> items = new EnumMap<>(CareItem.class);
    for (CareItem item : CareItem.values()) {
      items.put(item, ticked.contains(item.code()));
    }
    return items;
  }
}
