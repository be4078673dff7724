package indwell.port.trace;

import java.util.function.Supplier;

/**
 * What a thread does its work for: whatever it logs meanwhile is marked with the request and the
 * trace, and the spans that it begins are parts of this one. Work that is handed to another thread
 * is {@link #carrying carried} there; nothing else passes it on.
 *
 * @param request the id of the request; empty for work that no request waits for
 * @param trace 32 hexadecimal digits; empty for none
 * @param span what the spans that are begun are parts of
 */
public record Errand(String request, String trace, Span span) {
  /** None in particular. */
  public static final Errand NONE = new Errand("", "", NoSpan.NONE);

  private static final ThreadLocal<Errand> CURRENT = new ThreadLocal<>();

  /** Work that no request waits for, in the trace of that span. */
  public static Errand task(Span span) {
    return new Errand("", span.trace(), span);
  }

  /** The one of this thread. */
  public static Errand current() {
    Errand current = CURRENT.get();
    return current == null ? NONE : current;
  }

  /** Whether both are for the same request. */
  public boolean sameRequest(Errand other) {
    return request.equals(other.request);
  }

  /** Does work for this errand; afterwards the thread is on the one that it was on before. */
  public <T> T doing(Supplier<T> work) {
    Errand before = CURRENT.get();
    CURRENT.set(this);
    try {
      return work.get();
    } finally {
      if (before == null) {
        CURRENT.remove();
      } else {
        CURRENT.set(before);
      }
    }
  }

  /** The work, to be done for this errand by whatever thread runs it. */
  public Runnable carrying(Runnable work) {
    return () ->
        doing(
            () -> {
              work.run();
              return this;
            });
  }

  /** Does a part of the current errand, as a span of its own. */
  public static <T> T part(String name, Supplier<T> work) {
    Errand current = current();
    Span span = current.span.part(name);
    return span.equals(NoSpan.NONE) ? work.get() : current.within(span, work);
  }

  /** Does work within a span that has just begun, and ends it. */
  public <T> T within(Span begun, Supplier<T> work) {
    try {
      return new Errand(request, trace, begun).doing(work);
    } catch (RuntimeException | Error failure) {
      begun.failed(failure.getClass().getName());
      throw failure;
    } finally {
      begun.end();
    }
  }
}
