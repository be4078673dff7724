package indwell.contract;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.adapter.store.postgres.PostgresStore;
import indwell.fhir.map.MappingContext;
import indwell.intake.EventBodies;
import indwell.intake.Outcome;
import indwell.port.ClinicalStore;
import indwell.usecase.RandomBodies;
import indwell.usecase.Received;
import indwell.usecase.RecordEvents;
import java.io.BufferedOutputStream;
import java.io.DataInputStream;
import java.io.DataOutputStream;
import java.io.IOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.atomic.AtomicInteger;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/**
 * What a transaction costs whatever is in it is mostly sending and receiving: how often the service
 * waits for PostgreSQL is counted on the way between them.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class RoundTripsTest {
  private static final Instant NOW = RandomBodies.START.plus(Duration.ofDays(20));

  /**
   * Locks of events with what is known of them; locks of patients with their events; the resources;
   * what is written; the commit. What a pool does by the way may add to some.
   */
  @Test
  void events_take_five_round_trips_however_many_they_are() throws IOException {
    try (Relay relay = new Relay(TestPostgres.newDatabase());
        ClinicalStore store =
            PostgresStore.open(relay.url(), TestPostgres.USER, TestPostgres.PASSWORD)) {
      RecordEvents recorder =
          new RecordEvents(store, new Satisfied(), new MappingContext(ZoneOffset.UTC));
      List<Integer> trips = new ArrayList<>();
      for (int seed = 1; seed <= 12; seed++) {
        List<Received> events = received(seed);
        int before = relay.trips();
        assertThat(recorder.record(events)).noneMatch(one -> one.outcome() == Outcome.FAILED);
        trips.add(relay.trips() - before);
      }
      assertThat(trips.stream().min(Integer::compare)).hasValue(5);
    }
  }

  /** Of one patient and their first versions; those of later ones are asked for one by one. */
  private static List<Received> received(int seed) {
    return new RandomBodies(seed)
        .bodies().stream()
            .filter(body -> body.contains("\"version\":1,"))
            .map(
                body ->
                    new Received(EventBodies.line(body.getBytes(StandardCharsets.UTF_8), NOW), NOW))
            .toList();
  }

  /**
   * Stands between a client and a server and counts how often the client said Sync, behind which it
   * waits for the answers (PostgreSQL 17, 53.2.3). It does not wait behind BEGIN.
   */
  private static final class Relay implements AutoCloseable {
    private static final String JDBC = "jdbc:";

    /** What a client asks first, in the place of a version (53.7, SSLRequest). */
    private static final int ENCRYPTED = 80877103;

    private final URI server;
    private final ServerSocket socket;
    private final AtomicInteger trips = new AtomicInteger();

    private Relay(String url) throws IOException {
      this.server = URI.create(url.substring(JDBC.length()));
      this.socket = new ServerSocket(0, 50, InetAddress.getLoopbackAddress());
      daemon(this::accept);
    }

    private String url() {
      return JDBC
          + server.getScheme()
          + "://"
          + socket.getInetAddress().getHostAddress()
          + ":"
          + socket.getLocalPort()
          + server.getPath();
    }

    private int trips() {
      return trips.get();
    }

    private void accept() throws IOException {
      while (true) {
        Socket client = socket.accept();
        Socket behind = new Socket(server.getHost(), server.getPort());
        daemon(() -> count(client, behind));
        daemon(() -> behind.getInputStream().transferTo(client.getOutputStream()));
      }
    }

    private void count(Socket client, Socket behind) throws IOException {
      try (client;
          behind) {
        DataInputStream in = new DataInputStream(client.getInputStream());
        DataOutputStream out =
            new DataOutputStream(new BufferedOutputStream(behind.getOutputStream()));
        while (start(in, out) == ENCRYPTED) {
          out.flush();
        }
        while (true) {
          out.flush();
          int kind = in.readByte();
          if (kind == 'S') {
            trips.incrementAndGet();
          }
          out.writeByte(kind);
          body(in.readInt(), in, out);
        }
      }
    }

    /** The first message has no kind; gives the version that it names. */
    private static int start(DataInputStream in, DataOutputStream out) throws IOException {
      int length = in.readInt();
      int version = in.readInt();
      out.writeInt(length);
      out.writeInt(version);
      out.write(in.readNBytes(length - 2 * Integer.BYTES));
      return version;
    }

    private static void body(int length, DataInputStream in, DataOutputStream out)
        throws IOException {
      out.writeInt(length);
      out.write(in.readNBytes(length - Integer.BYTES));
    }

    @Override
    public void close() throws IOException {
      socket.close();
    }

    private static void daemon(Work work) {
      Thread thread =
          new Thread(
              () -> {
                try {
                  work.run();
                } catch (IOException ended) {
                  // The test is over, or one side has closed its end.
                }
              });
      thread.setDaemon(true);
      thread.start();
    }

    private interface Work {
      void run() throws IOException;
    }
  }
}
