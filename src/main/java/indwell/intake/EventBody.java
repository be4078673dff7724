package indwell.intake;

import java.util.List;

/** What a body held. */
public sealed interface EventBody permits EventBody.Single, EventBody.Batch, EventBody.Rejected {

  /** One object, answered by an object. */
  record Single(Reading reading) implements EventBody {}

  /** An array, answered by an array in the same order. */
  record Batch(List<Reading> readings) implements EventBody {
    public Batch {
      readings = List.copyOf(readings);
    }
  }

  /**
   * Nothing that events could be read from.
   *
   * @param status the HTTP status of the answer
   */
  record Rejected(int status, EventResult result) implements EventBody {}
}
