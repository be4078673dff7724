package indwell.boot.cli;

import indwell.domain.refusal.Visible;
import indwell.port.ProfileValidator.Finding;
import indwell.port.ProfileValidator.Place;
import java.nio.file.Path;
import java.util.List;

/**
 * What was found in one resource.
 *
 * @param line the first line of it in its file, from 1
 * @param type its resourceType as it states it, empty if it states none
 * @param id its id, empty if it states none
 * @param profiles those that it claims
 * @param findings their places are those in the file
 */
record Judged(
    Path file, long line, String type, String id, List<String> profiles, List<Finding> findings) {
  private static final int LONGEST = 1_000;

  /** Something that is no resource. */
  static Judged unread(Path file, long line, Finding finding) {
    return new Judged(file, line, "", "", List.of(), List.of(finding));
  }

  boolean hasErrors() {
    return findings.stream().anyMatch(Finding::isError);
  }

  /** The file by the name that the caller gave it. */
  String fileName() {
    return Visible.of(file.toString(), LONGEST);
  }

  /** What it is: {@code Patient/17}. */
  String name() {
    String shownType = type.isEmpty() ? "no resource" : Visible.of(type, LONGEST);
    return id.isEmpty() ? shownType : shownType + "/" + Visible.of(id, LONGEST);
  }

  /** Where a finding stands, as editors read it: file, line and, if known, column. */
  String where(Finding finding) {
    return fileName()
        + finding
            .place()
            .map(place -> ":" + place.line() + ":" + place.column())
            .orElse(":" + line);
  }

  /** The place of a finding in a text, as a place in the file. */
  static Place inFile(Place place, SentText text) {
    return new Place(Math.toIntExact(text.line()) + place.line() - 1, place.column());
  }
}
