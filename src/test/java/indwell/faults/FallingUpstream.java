package indwell.faults;

import indwell.port.Upstream;
import indwell.port.UpstreamAnswer;
import java.util.function.Consumer;

/** A way to the hospital that tells when a resource is about to be sent, and when it was taken. */
record FallingUpstream(Upstream upstream, Consumer<Point> reached) implements Upstream {
  @Override
  public UpstreamAnswer put(Sending sending) {
    reached.accept(Point.BEFORE_SENDING);
    UpstreamAnswer answer = upstream.put(sending);
    if (answer.kind() == UpstreamAnswer.Kind.TAKEN) {
      reached.accept(Point.SENT);
    }
    return answer;
  }

  @Override
  public UpstreamAnswer read(String type, String id) {
    return upstream.read(type, id);
  }

  @Override
  public UpstreamAnswer search(String type, String criterion) {
    return upstream.search(type, criterion);
  }

  @Override
  public UpstreamAnswer page(String address) {
    return upstream.page(address);
  }
}
