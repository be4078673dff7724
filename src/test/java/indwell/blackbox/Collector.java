package indwell.blackbox;

import com.sun.net.httpserver.HttpExchange;
import com.sun.net.httpserver.HttpServer;
import io.opentelemetry.proto.collector.trace.v1.ExportTraceServiceRequest;
import io.opentelemetry.proto.common.v1.KeyValue;
import io.opentelemetry.proto.trace.v1.Span;
import java.io.IOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.util.HexFormat;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.Executors;

/** Takes OTLP over HTTP, read by the classes of its published definition. */
final class Collector implements AutoCloseable {
  private final HttpServer server;
  private final List<byte[]> bodies = new CopyOnWriteArrayList<>();
  private final List<Map<String, List<String>>> headers = new CopyOnWriteArrayList<>();
  private final List<Span> spans = new CopyOnWriteArrayList<>();
  private volatile int status = 200;

  Collector() throws IOException {
    server = HttpServer.create(new InetSocketAddress(InetAddress.getLoopbackAddress(), 0), 0);
    server.setExecutor(
        Executors.newCachedThreadPool(
            task -> {
              Thread thread = new Thread(task, "collector");
              thread.setDaemon(true);
              return thread;
            }));
    server.createContext("/v1/traces", this::take);
    server.start();
  }

  private void take(HttpExchange exchange) throws IOException {
    byte[] body = exchange.getRequestBody().readAllBytes();
    headers.add(Map.copyOf(exchange.getRequestHeaders()));
    if (status == 200) {
      ExportTraceServiceRequest request = ExportTraceServiceRequest.parseFrom(body);
      request
          .getResourceSpansList()
          .forEach(
              resource ->
                  resource.getScopeSpansList().forEach(s -> spans.addAll(s.getSpansList())));
      bodies.add(body);
    }
    exchange.sendResponseHeaders(status, -1);
    exchange.close();
  }

  String endpoint() {
    return "http://127.0.0.1:" + server.getAddress().getPort() + "/v1/traces";
  }

  /** What it answers from now on; anything but 200 is not kept. */
  void answers(int code) {
    status = code;
  }

  /** What came in, byte for byte. */
  List<byte[]> bodies() {
    return List.copyOf(bodies);
  }

  /** The headers of every request. */
  List<Map<String, List<String>>> headers() {
    return List.copyOf(headers);
  }

  List<Span> spans() {
    return List.copyOf(spans);
  }

  /** Those of a trace. */
  List<Span> trace(String id) {
    return spans.stream().filter(span -> trace(span).equals(id)).toList();
  }

  static String trace(Span span) {
    return HexFormat.of().formatHex(span.getTraceId().toByteArray());
  }

  static String id(Span span) {
    return HexFormat.of().formatHex(span.getSpanId().toByteArray());
  }

  /** Empty for the first of a trace. */
  static String parent(Span span) {
    return HexFormat.of().formatHex(span.getParentSpanId().toByteArray());
  }

  static Map<String, String> attributes(Span span) {
    Map<String, String> attributes = new TreeMap<>();
    for (KeyValue one : span.getAttributesList()) {
      attributes.put(
          one.getKey(),
          one.getValue().hasIntValue()
              ? Long.toString(one.getValue().getIntValue())
              : one.getValue().getStringValue());
    }
    return attributes;
  }

  @Override
  public void close() {
    server.stop(0);
  }
}
