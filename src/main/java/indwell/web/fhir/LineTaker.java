package indwell.web.fhir;

import indwell.web.HttpAnswer;
import java.util.Optional;

/** Takes the lines of one body while they arrive; one thread at a time. */
interface LineTaker {
  /**
   * Takes a line that is not blank.
   *
   * @param number from 1, blank lines not counted
   * @param line empty when it was larger than may be
   * @throws FhirRefusal when nothing more is to be read
   */
  void take(int number, Optional<byte[]> line);

  /**
   * Answers once all lines are there.
   *
   * @throws FhirRefusal when there is no answer
   */
  HttpAnswer answer();

  /** Lets go of what it holds; called once, whatever happened. */
  void release();
}
