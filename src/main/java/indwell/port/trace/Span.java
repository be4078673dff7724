package indwell.port.trace;

import java.util.Map;

/**
 * A part of what is done for a request, from its beginning to its end, as OpenTelemetry has it.
 * Names, keys and values are of fixed lists, or numbers: nothing that is said of a patient, and no
 * text of a caller. For use by any thread; none of the methods throws or waits.
 */
public interface Span {

  /** Begins a part of this one that is done here. */
  Span part(String name);

  /** Begins a part of this one that is asked of another server. */
  Span call(String name);

  /** The trace that it is in: 32 hexadecimal digits; empty when nobody records anything. */
  String trace();

  /** The headers that tell another server where in the trace it is asked (W3C Trace Context). */
  Map<String, String> headers();

  /** Gives it another name. */
  void name(String name);

  /** Says something of it. */
  void note(String key, String value);

  /** The same with a number. */
  void note(String key, long value);

  /** Says that it shares what it did with another one, which may be in another trace. */
  void linkTo(Span other);

  /**
   * Says that it went wrong.
   *
   * @param what of a fixed list: a class, a status
   */
  void failed(String what);

  /** Ends it; what is said of it afterwards is not heard. */
  void end();
}
