package indwell.faults;

import indwell.contract.Audits;
import indwell.port.AuditEntry;
import indwell.port.ClinicalStore;
import java.io.IOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse.BodyHandlers;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.stream.Collectors;

/**
 * Callers who ask over HTTP, each time something that nobody else asks, and note which answers came
 * whole: searches, and resources that are not there.
 */
final class Readers {
  private static final int THREADS = 8;

  private final String base;
  private final HttpClient client =
      HttpClient.newBuilder().version(HttpClient.Version.HTTP_1_1).build();
  private final CountDownLatch first = new CountDownLatch(1);
  private final AtomicInteger next = new AtomicInteger();
  private final Set<String> answered = ConcurrentHashMap.newKeySet();
  private final List<Thread> threads = new ArrayList<>();

  Readers(String base) {
    this.base = base;
  }

  /** They ask until nobody answers. */
  Readers start() {
    for (int t = 0; t < THREADS; t++) {
      Thread thread = new Thread(this::ask, "reader-" + t);
      thread.setDaemon(true);
      threads.add(thread);
      thread.start();
    }
    return this;
  }

  /** Waits for the first answer. */
  void awaitFirst() throws InterruptedException {
    first.await();
  }

  /** Waits until all have seen the end. */
  void join() throws InterruptedException {
    for (Thread thread : threads) {
      thread.join();
    }
  }

  int answers() {
    return answered.size();
  }

  private void ask() {
    try {
      while (true) {
        int number = next.getAndIncrement();
        String mark = number % 2 == 0 ? date(number) : id(number);
        String path = number % 2 == 0 ? "/Procedure?date=" + mark : "/Procedure/" + mark;
        HttpRequest request = HttpRequest.newBuilder(URI.create(base + path)).build();
        int status = client.send(request, BodyHandlers.ofByteArray()).statusCode();
        if (status != (number % 2 == 0 ? 200 : 404)) {
          throw new IllegalStateException(path + " was answered by " + status);
        }
        answered.add(mark);
        first.countDown();
      }
    } catch (IOException ended) {
      // It was killed; whatever it had answered before counts.
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  /** A moment that only this number is, which the trail keeps as it was asked for. */
  private static String date(int number) {
    return String.format(
        Locale.ROOT,
        "ge2026-03-01T%02d:%02d:%02d.%03dZ",
        number / 3_600_000 % 24,
        number / 60_000 % 60,
        number / 1_000 % 60,
        number % 1_000);
  }

  /** As the service makes them: 26 letters of base 32, of which these need eight. */
  private static String id(int number) {
    StringBuilder id = new StringBuilder("a".repeat(18));
    for (int place = 0; place < 8; place++) {
      id.append((char) ('a' + (number >> (4 * place) & 15)));
    }
    return id.toString();
  }

  /** Answers that came whole and have no row. */
  int withoutRow(ClinicalStore store) {
    Set<String> told = Audits.all(store).stream().map(Readers::mark).collect(Collectors.toSet());
    return (int) answered.stream().filter(mark -> !told.contains(mark)).count();
  }

  private static String mark(AuditEntry row) {
    return row.entity()
        .map(entity -> entity.substring(entity.indexOf('/') + 1))
        .orElseGet(() -> row.query().substring(row.query().indexOf('=') + 1));
  }
}
