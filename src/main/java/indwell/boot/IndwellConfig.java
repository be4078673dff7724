package indwell.boot;

import indwell.domain.rule.UrineReading;
import indwell.usecase.publish.Addressing;
import io.smallrye.config.ConfigMapping;
import io.smallrye.config.WithDefault;
import io.smallrye.config.WithParentName;
import java.math.BigDecimal;
import java.time.Duration;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;

/** All that can be configured, under {@code indwell}; described in docs/configuration.md. */
@ConfigMapping(prefix = "indwell")
public interface IndwellConfig {

  /** Folder of the embedded database; made when it is not there. */
  @WithDefault("./data")
  String dataDir();

  /** JDBC address of a PostgreSQL database; without it the embedded database is used. */
  Optional<String> databaseUrl();

  /** User of the PostgreSQL database. */
  Optional<String> databaseUser();

  /** Password of the PostgreSQL database. */
  Optional<String> databasePassword();

  /** IANA name of the facility's time zone. Changing it changes every date that was counted. */
  @WithDefault("UTC")
  ZoneId facilityZone();

  /** Local time of the daily count, {@code HH:mm}. Changing it changes every count. */
  @WithDefault("00:00")
  LocalTime countTime();

  /** Name of the facility, as its reports give it. */
  Optional<String> facilityName();

  /** What those who receive reports know the facility by, {@code system|value}. */
  Optional<String> facilityIdentifier();

  /** How reports refer to the facility. */
  @WithDefault("contained")
  ReporterForm facilityReporter();

  /** Address of the facility's Organization elsewhere; with the form {@code reference}. */
  Optional<String> facilityReference();

  /** Whether an invented ward is loaded into an empty store at start. */
  @WithDefault("false")
  boolean demo();

  /** Who vouches for callers; without it nobody is asked, and only this machine is served. */
  Optional<String> issuer();

  /** What tokens call this service, any of them; an issuer needs it. */
  Optional<List<String>> audience();

  /** Address of the issuer's keys; without it the issuer is asked where they are. */
  Optional<String> jwksUrl();

  /** Where a token has the roles of a person, with dots between names. */
  @WithDefault("roles")
  String rolesClaim();

  /** How often a client may ask, and how long a request may take. */
  Requests requests();

  /** Pages of other sites that may ask by a browser. */
  Cors cors();

  /** How long a stop waits for requests that are under way. */
  @WithDefault("10s")
  Duration stopWithin();

  /** How people log in to the pages; without a client id nobody does. */
  Login login();

  /** Exports of the record in bulk. */
  Export export();

  /** Figures for whoever watches the service. */
  Metrics metrics();

  /** Spans for whoever looks into requests; off without an endpoint. */
  Traces traces();

  /** Whether each request gets a line in the log. */
  @WithDefault("false")
  boolean accessLog();

  /** Telling another FHIR server of the record; off without its address. */
  Publish publish();

  /** Limits of the flags for the whole facility. */
  Rules rules();

  /** What the hospital is, for predictions of CAUTI; without its type nothing is predicted. */
  Prediction prediction();

  /** What single wards set for themselves, by ward code. */
  Map<String, Ward> wards();

  /** How often a client may ask, and how long a request may take. */
  interface Requests {
    /** Requests in a row; with an issuer only. */
    @WithDefault("20000")
    int most();

    /** The time in which as many come back. */
    @WithDefault("10s")
    Duration within();

    /** Longest from the connection, or the first byte of a request, to the end of its head. */
    @WithDefault("20s")
    Duration headWithin();

    /** Longest from the end of the head to the last byte of the answer; streams excepted. */
    @WithDefault("2m")
    Duration answeredWithin();
  }

  /** Pages of other sites that may ask by a browser. */
  interface Cors {
    /** Scheme, host and port of each; none without it. */
    Optional<List<String>> origins();
  }

  /** How people log in to the pages. */
  interface Login {
    /** What the issuer knows this service by. */
    Optional<String> clientId();

    /** Its secret at the issuer; none for a public client. */
    Optional<String> clientSecret();

    /** What is asked of the issuer, {@code openid} among it. */
    @WithDefault("openid")
    String scope();

    /** Scheme, host and port that browsers know this service by; otherwise those of the request. */
    Optional<String> publicUrl();

    /** How long somebody stays logged in: a shift. */
    @WithDefault("8h")
    Duration keep();
  }

  /** Exports of the record in bulk. */
  interface Export {
    /** Folder of their files; without it, {@code exports} in the data folder. */
    Optional<String> folder();

    /** How long the files of an export can be fetched once it is finished. */
    @WithDefault("24h")
    Duration keep();

    /** Most exports that wait or run at once. */
    @WithDefault("4")
    int mostUnfinished();
  }

  /** Figures for whoever watches the service. */
  interface Metrics {
    /** How old figures may become that are asked of the store. */
    @WithDefault("60s")
    Duration storeEvery();
  }

  /** Spans for whoever looks into requests. */
  interface Traces {
    /** Address that takes OTLP over HTTP; without it nothing is recorded. */
    Optional<String> endpoint();

    /** How many of the traces that begin here are recorded, 0 to 1. */
    @WithDefault("1")
    double ratio();

    /** Headers to send along, {@code name=value} with commas between; they may be credentials. */
    Optional<String> headers();
  }

  /** Telling another FHIR server of the record. */
  interface Publish {
    /** Base address of the server; without it nothing is published. */
    Optional<String> url();

    /** Whose ids resources have there: {@code ours} or {@code theirs}. */
    @WithDefault("ours")
    Addressing ids();

    /** File with a bearer token. */
    Optional<String> bearerFile();

    /** Client id at the server that gives tokens (SMART Backend Services). */
    Optional<String> clientId();

    /** File with our private key as JWK; with the client id. */
    Optional<String> keyFile();

    /** Where tokens are given; without it the FHIR server is asked. */
    Optional<String> tokenUrl();

    /** Scopes to ask for. */
    @WithDefault("system/*.crus")
    String scope();

    /** Patients that are sent at once. */
    @WithDefault("4")
    int parallel();

    /** Longest that a request may take. */
    @WithDefault("30s")
    Duration timeout();

    /** Longest wait between two tries. */
    @WithDefault("5m")
    Duration longestPause();
  }

  /** Limits of the flags; where one is missing the wider setting holds, at last the contract's. */
  interface Rules {
    /** Local time by which a need review is due. */
    Optional<LocalTime> reviewDueBy();

    /** Days after the day of application on which a securement is still good. */
    OptionalInt securementGoodDays();

    /** Longest time between measured outputs. */
    Optional<Duration> outputChartingWithin();

    /** Longest time between care checks. */
    Optional<Duration> careCheckWithin();

    /** Longest time in place after surgery without another indication. */
    Optional<Duration> postoperativeWithin();

    /** Largest difference in mL between balloon fill and label that is no mismatch. */
    Optional<BigDecimal> balloonToleranceMl();

    /** How low urine output is staged: {@code mean}, {@code consecutive} or {@code neonatal}. */
    Optional<UrineReading> urineReading();
  }

  /** What a published table of coefficients asks of the hospital. */
  interface Prediction {
    /** {@code acute-care}, {@code critical-access} or {@code long-term-acute-care}. */
    Optional<String> hospitalType();

    /** Beds of the hospital. */
    OptionalInt beds();

    /** Affiliation with a medical school: {@code major}, {@code graduate} and so on. */
    Optional<String> medicalSchool();

    /** Annual patient days by annual admissions. */
    Optional<BigDecimal> averageStayDays();

    /** Beds of intensive care by all beds, 0 to 1. */
    Optional<BigDecimal> icuShare();
  }

  /** What a ward sets for itself. */
  interface Ward {
    /** Local time of the ward's daily count, {@code HH:mm}. */
    Optional<LocalTime> countTime();

    /** Group of location types that a prediction of CAUTI asks for, such as {@code ward-3}. */
    Optional<String> locationGroup();

    /** Limits of the flags in the ward. */
    @WithParentName
    Rules rules();
  }
}
