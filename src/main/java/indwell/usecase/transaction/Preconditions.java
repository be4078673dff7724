package indwell.usecase.transaction;

import indwell.domain.refusal.IssueCode;
import indwell.fhir.map.ResourceId;
import indwell.port.StoredResource;
import indwell.usecase.transaction.Preparation.Prepared;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** Versions that callers expect to change, {@code ifMatch} (FHIR R4, http.html#concurrency). */
final class Preconditions {
  private static final Pattern TAG = Pattern.compile("(?:W/)?\"([0-9]{1,9})\"");

  private Preconditions() {}

  static void check(Scene scene, Prepared prepared) {
    Problems problems = new Problems();
    problems.each(prepared.taken(), one -> check(scene, one.entry(), Optional.of(one.id())));
    problems.each(prepared.deletions(), one -> check(scene, one.entry(), one.id()));
    problems.end();
  }

  private static void check(Scene scene, Entry entry, Optional<ResourceId> id) {
    if (entry.ifMatch().isEmpty()) {
      return;
    }
    String given = entry.ifMatch().get();
    Matcher tag = TAG.matcher(given.trim());
    if (!tag.matches()) {
      throw entry.refused(
          400,
          IssueCode.BAD_BUNDLE,
          "request.ifMatch",
          "Version " + Words.shown(given) + " cannot be read; expected one such as W/\"3\".");
    }
    Optional<Integer> version = id.flatMap(scene::stored).map(StoredResource::version);
    if (version.isEmpty() || version.get() != Integer.parseInt(tag.group(1))) {
      throw entry.refused(
          412,
          IssueCode.VERSION_NOT_MATCHED,
          "request.ifMatch",
          "Version "
              + Words.shown(given)
              + " is not the newest; expected "
              + version.map(one -> "W/\"" + one + "\"").orElse("no version at all")
              + ".");
    }
  }
}
