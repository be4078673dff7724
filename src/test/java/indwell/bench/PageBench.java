package indwell.bench;

import indwell.web.page.Bedside;
import indwell.web.page.PagesServer;
import java.time.Duration;
import java.util.List;

/** The page of a full ward, rendered and read over HTTP by one reader, against 100 ms a page. */
final class PageBench {
  private static final int PATIENTS = 60;
  private static final double PAGES_A_SECOND_WANTED = 10;
  private static final int WARMING = 200;
  private static final int MEASURED = 200;

  List<Row> rows() throws Exception {
    try (PagesServer server = new PagesServer()) {
      for (int i = 0; i < PATIENTS; i++) {
        Bedside.withCatheter("P-" + i, "FULL-1", server.now().minus(Duration.ofHours(20 + 5 * i)))
            .forEach(server::record);
      }
      read(server, WARMING);
      double seconds = Stopwatch.seconds(() -> read(server, MEASURED));
      return List.of(
          new Row(
              "page of a ward of " + PATIENTS + " patients",
              MEASURED / seconds,
              "100 ms a page",
              PAGES_A_SECOND_WANTED,
              "pages/s",
              1));
    }
  }

  private static void read(PagesServer server, int times) throws Exception {
    for (int i = 0; i < times; i++) {
      String page = server.get("/wards/FULL-1").body();
      if (!page.contains("P-" + (PATIENTS - 1) + "<")) {
        throw new IllegalStateException("The page lacks a patient");
      }
    }
  }
}
