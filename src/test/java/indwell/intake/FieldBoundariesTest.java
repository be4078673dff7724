package indwell.intake;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.domain.event.EventType;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Every bound of the contract's section 2: just inside and just outside. */
@DisplayNameGeneration(DisplayNameGenerator.ReplaceUnderscores.class)
class FieldBoundariesTest {

  @ParameterizedTest
  @CsvSource({
    "version, 1, ok",
    "version, 1.0, ok",
    "version, 10e-1, ok",
    "version, 0, IND-0015",
    "version, -1, IND-0015",
    "version, 2147483647, ok",
    "version, 2147483648, IND-0015",
    "version, 1.1, IND-0012",
    "version, true, IND-0012",
    "details.sizeCh, 5, IND-0015",
    "details.sizeCh, 6, ok",
    "details.sizeCh, 30, ok",
    "details.sizeCh, 3e1, ok",
    "details.sizeCh, 31, IND-0015",
    "details.sizeCh, 14.5, IND-0012",
    "details.lumens, 0, IND-0015",
    "details.lumens, 1, ok",
    "details.lumens, 4, ok",
    "details.lumens, 5, IND-0015",
    "details.attempts, 0, IND-0015",
    "details.attempts, 1, ok",
    "details.attempts, 20, ok",
    "details.attempts, 21, IND-0015",
    "details.maxDwellDays, 0, IND-0015",
    "details.maxDwellDays, 1, ok",
    "details.maxDwellDays, 365, ok",
    "details.maxDwellDays, 366, IND-0015",
    "details.balloonLabelMl, -0.001, IND-0015",
    "details.balloonLabelMl, 0, ok",
    "details.balloonLabelMl, 100, ok",
    "details.balloonLabelMl, 100.001, IND-0015",
    "details.balloonFilledMl, -0.001, IND-0015",
    "details.balloonFilledMl, -0, ok",
    "details.balloonFilledMl, 100.000, ok",
    "details.balloonFilledMl, 100.001, IND-0015",
    "details.urineReturnedMl, -0.001, IND-0015",
    "details.urineReturnedMl, 0, ok",
    "details.urineReturnedMl, 2e4, ok",
    "details.urineReturnedMl, 20000.001, IND-0015",
  })
  void numbers_of_an_insertion(String path, String json, String answer) {
    check(EventType.CATHETER_INSERTED, path, json, answer);
  }

  @ParameterizedTest
  @CsvSource({
    "URINE_MEASURED, details.volumeMl, -0.001, IND-0015",
    "URINE_MEASURED, details.volumeMl, 0, ok",
    "URINE_MEASURED, details.volumeMl, 20000, ok",
    "URINE_MEASURED, details.volumeMl, 20000.001, IND-0015",
    "WEIGHT_MEASURED, details.kg, 0.199, IND-0015",
    "WEIGHT_MEASURED, details.kg, 0.2, ok",
    "WEIGHT_MEASURED, details.kg, 700, ok",
    "WEIGHT_MEASURED, details.kg, 700.001, IND-0015",
    "WEIGHT_MEASURED, details.kg, '\"70\"', IND-0012",
  })
  void numbers_of_measurements(EventType type, String path, String json, String answer) {
    check(type, path, json, answer);
  }

  /** Path, the longest length allowed. */
  @ParameterizedTest
  @CsvSource({
    "source, 64",
    "eventId, 128",
    "patient.value, 128",
    "encounter.value, 128",
    "recorder.value, 128",
    "details.catheterId, 128",
    "details.material, 128",
    "details.lotNumber, 128",
    "details.udi, 128",
    "details.indicationText, 500",
  })
  void lengths_of_texts(String path, int most) {
    check(EventType.CATHETER_INSERTED, path, "\"\"", "IND-0013");
    check(EventType.CATHETER_INSERTED, path, "\"x\"", "ok");
    check(EventType.CATHETER_INSERTED, path, '"' + "x".repeat(most) + '"', "ok");
    check(EventType.CATHETER_INSERTED, path, '"' + "x".repeat(most + 1) + '"', "IND-0013");
  }

  @ParameterizedTest
  @CsvSource({
    "CATHETER_REMOVED, details.reason",
    "SECUREMENT_CHANGED, details.site",
    "NEED_REVIEWED, details.catheterId",
    "CARE_CHECKED, details.catheterId",
    "SPECIMEN_COLLECTED, details.catheterId",
    "URINE_MEASURED, details.catheterId",
    "CATHETER_EXCHANGED, details.replacement.catheterId",
  })
  void lengths_of_texts_of_other_types(EventType type, String path) {
    check(type, path, "\"\"", "IND-0013");
    check(type, path, '"' + "x".repeat(128) + '"', "ok");
    check(type, path, '"' + "x".repeat(129) + '"', "IND-0013");
  }

  /** A length counts code points: 128 faces are 256 UTF-16 units and 512 bytes. */
  @ParameterizedTest
  @CsvSource({"128, ok", "129, IND-0013"})
  void lengths_count_code_points(int length, String answer) {
    String faces = "\ud83d\ude00".repeat(length);
    check(EventType.CATHETER_INSERTED, "details.material", '"' + faces + '"', answer);
  }

  @ParameterizedTest
  @CsvSource({
    "a b, ok",
    "é, ok",
    "e\\u0301, ok",
    "a\\u200bb, ok",
    "\\u202ea, ok",
    "\\ufeffa, ok",
    "a\\\"b, ok",
    "a\\\\b, ok",
    "\\ud83d\\ude00, ok",
    "' a', IND-0013",
    "'a ', IND-0013",
    "' ', IND-0013",
    "\\u00a0a, IND-0013",
    "a\\u2003, IND-0013",
    "a\\u3000, IND-0013",
    "a\\u2028, IND-0013",
    "\\u1680a, IND-0013",
    "\\ta, IND-0013",
    "a\\nb, IND-0013",
    "a\\u0000b, IND-0013",
    "a\\u001fb, IND-0013",
    "a\\u007fb, IND-0013",
    "a\\u0085b, IND-0013",
    "a\\u009fb, IND-0013",
    "\\ud83d, IND-0013",
    "\\ude00\\ud83d, IND-0013",
    "a\\ud83db, IND-0013",
  })
  void characters_of_texts(String escaped, String answer) {
    for (String path : new String[] {"details.material", "patient.value", "details.catheterId"}) {
      check(EventType.CATHETER_INSERTED, path, '"' + escaped + '"', answer);
    }
  }

  @ParameterizedTest
  @CsvSource({
    "source, Az09._-, ok",
    "source, -._, ok",
    "source, a:b, IND-0013",
    "source, a/b, IND-0013",
    "source, é, IND-0013",
    "source, 'a ', IND-0013",
    "eventId, Az09._:/-, ok",
    "eventId, ../../x, ok",
    "eventId, a|b, IND-0013",
    "eventId, a#b, IND-0013",
    "eventId, a%2Fb, IND-0013",
    "eventId, a\\u0000, IND-0013",
  })
  void characters_of_keys(String path, String text, String answer) {
    check(EventType.CATHETER_INSERTED, path, '"' + text + '"', answer);
  }

  @ParameterizedTest
  @CsvSource({
    "W, ok",
    "9, ok",
    "w-1.A, ok",
    "w-, ok",
    ".w, IND-0013",
    "-w, IND-0013",
    "w_1, IND-0013",
    "w/1, IND-0013",
    "é, IND-0013",
    "'', IND-0013",
    "AAAAAAAAAABBBBBBBBBBCCCCCCCCCCDDDDDDDDDDEEEEEEEEEEFFFFFFFFFFGGGG, ok",
    "AAAAAAAAAABBBBBBBBBBCCCCCCCCCCDDDDDDDDDDEEEEEEEEEEFFFFFFFFFFGGGGH, IND-0013",
  })
  void wards(String ward, String answer) {
    check(EventType.PATIENT_ADMITTED, "details.ward", '"' + ward + '"', answer);
    check(EventType.PATIENT_TRANSFERRED, "details.ward", '"' + ward + '"', answer);
  }

  /** The clock stands at 2026-03-01T12:00Z; the last instant allowed is 12:05 exactly. */
  @ParameterizedTest
  @CsvSource({
    "2026-03-01T12:05:00Z, ok",
    "2026-03-01T12:05:00.0009Z, ok",
    "2026-03-01T12:05:00.001Z, IND-0017",
    "2026-03-01T13:05:00+01:00, ok",
    "2026-03-01T12:04:60Z, ok",
    "2026-03-01T12:05:60Z, IND-0017",
    "2000-01-01T00:00:00Z, ok",
    "2000-01-01T13:59:59+14:00, IND-0017",
    "1999-12-31T23:59:59.999Z, IND-0017",
    "1999-12-31T23:59:60Z, ok",
    "1970-01-01T00:00:00Z, IND-0017",
    "2106-02-07T06:28:16Z, IND-0017",
    "9999-12-31T23:59:59Z, IND-0017",
    "2026-03-01, IND-0016",
  })
  void times(String time, String answer) {
    check(EventType.CATHETER_INSERTED, "occurredAt", '"' + time + '"', answer);
    check(EventType.CATHETER_INSERTED, "details.surgeryEndedAt", '"' + time + '"', answer);
    check(
        EventType.CATHETER_EXCHANGED,
        "details.replacement.surgeryEndedAt",
        '"' + time + '"',
        answer);
  }

  /** The interval ends at 08:00. It has no earliest start but what FHIR can write. */
  @ParameterizedTest
  @CsvSource({
    "2026-03-01T07:59:59.999Z, ok",
    "2026-03-01T08:00:00Z, IND-0018",
    "2026-03-01T09:00:00+01:00, IND-0018",
    "2026-03-01T08:00:00.001Z, IND-0018",
    "2026-03-02T08:00:00Z, IND-0018",
    "1999-12-31T23:59:59Z, ok",
    "0001-01-02T00:00:00Z, ok",
    "0001-01-01T23:59:59Z, IND-0017",
    "0000-06-01T00:00:00Z, IND-0017",
  })
  void starts_of_intervals(String time, String answer) {
    check(EventType.URINE_MEASURED, "details.from", '"' + time + '"', answer);
  }

  /**
   * Source of the shapes: RFC 3986 section 1.1.2 (examples), sections 3.2 to 3.5 and 4.3; RFC 9110
   * section 4.2 (a host for http and https); RFC 4122; RFC 3061.
   */
  @ParameterizedTest
  @CsvSource({
    "ftp://ftp.is.co.za/rfc/rfc1808.txt, ok",
    "http://www.ietf.org/rfc/rfc2396.txt, ok",
    "ldap://[2001:db8::7]/c=GB?objectClass?one, ok",
    "mailto:John.Doe@example.com, ok",
    "news:comp.infosystems.www.servers.unix, ok",
    "tel:+1-816-555-1212, ok",
    "telnet://192.0.2.16:80/, ok",
    "urn:oasis:names:specification:docbook:dtd:xml:4.1.2, ok",
    "urn:oid:1.2.3, ok",
    "urn:oid:1.02.3, IND-0019",
    "urn:oid:x, IND-0019",
    "urn:uuid:f81d4fae-7dec-11d0-a765-00a0c91e6bf6, ok",
    "urn:uuid:f81d4fae, IND-0019",
    "urn:uuid:F81D4FAE-7DEC-11D0-A765-00A0C91E6BF6, IND-0019",
    "oid:1.2.3, IND-0019",
    "uuid:f81d4fae-7dec-11d0-a765-00a0c91e6bf6, IND-0019",
    "https://hospital.example/a%20b, ok",
    "https://hospital.example/a%2, IND-0019",
    "https://hospital.example/a b, IND-0019",
    "' https://hospital.example/a', IND-0019",
    "https://hospital.example/é, IND-0019",
    "https://hospital.example/a|b, IND-0019",
    "https://hospital.example/\\u0000, IND-0019",
    "https:, IND-0019",
    "//hospital.example/a, IND-0019",
    "/a/b, IND-0019",
    "hospital, IND-0019",
    "1a:b, IND-0019",
    ":b, IND-0019",
    "'', IND-0019",
    "http://[, IND-0019",
    "http://], IND-0019",
    "http://[::1, IND-0019",
    "http://[::1]x/, IND-0019",
    "http://[1:2:3:4:5:6:7]/, IND-0019",
    "http://[1:2:3:4:5:6:7:8:9]/, IND-0019",
    "http://[1::2::3]/, IND-0019",
    "http://[12345::]/, IND-0019",
    "http://[::256.0.0.1]/, IND-0019",
    "http://[::1]/, ok",
    "http://[::]:8080/, ok",
    "http://[2001:db8:0:0:0:0:192.0.2.1]/a, ok",
    "http://[v1.fe80::a+en1]/, ok",
    "http://hospital.example/a[1], IND-0019",
    "http://a:b/c, IND-0019",
    "http://a:1:2/c, IND-0019",
    "http://a@b@c/, IND-0019",
    "http://a:99999999/, IND-0019",
    "http://a:65536/, IND-0019",
    "http://a:65535/, ok",
    "http://a:000080/, ok",
    "http://a:/, ok",
    "http://user:word@a/, ok",
    "http://, IND-0019",
    "http:///a, IND-0019",
    "http://:80/, IND-0019",
    "http://?a, IND-0019",
    "http:a, IND-0019",
    "HTTPS:/a, IND-0019",
    "https://a, ok",
    "https://a?b=c/d?e#f, ok",
    "https://a_b.example/ünit, IND-0019",
    "https://a_b.example/%C3%BCnit, ok",
    "urn:x#y, ok",
    "urn:x#y#z, IND-0019",
    "urn:x[1], IND-0019",
    "file:///etc/hosts, ok",
    "tag:hospital.example;2026:p, ok",
    "ldap://[x/, IND-0019",
    "foo://a:99999999/, ok",
    "a:b, ok",
  })
  void systems(String uri, String answer) {
    for (String field : new String[] {"patient", "encounter", "recorder"}) {
      check(EventType.CATHETER_INSERTED, field + ".system", '"' + uri + '"', answer);
    }
  }

  /** Source: FHIR R4, data type Identifier, on the system urn:ietf:rfc:3986. */
  @ParameterizedTest
  @CsvSource({"https://hospital.example/p/1, true", "urn:oid:1.2.3, true", "P-1, false"})
  void values_that_are_URIs_themselves(String value, boolean taken) {
    String recorder = "{\"system\":\"urn:ietf:rfc:3986\",\"value\":\"" + value + "\"}";
    String event = Samples.with(Samples.event(EventType.WEIGHT_MEASURED), "recorder", recorder);
    if (taken) {
      assertThat(Samples.read(event)).isInstanceOf(Reading.Accepted.class);
    } else {
      assertThat(Samples.faultsOf(event)).containsExactly("IND-0019 recorder.value");
    }
  }

  @ParameterizedTest
  @CsvSource({"2048, ok", "2049, IND-0019"})
  void length_of_systems(int length, String answer) {
    String uri = "urn:x:" + "a".repeat(length - 6);
    check(EventType.WEIGHT_MEASURED, "patient.system", '"' + uri + '"', answer);
  }

  private static void check(EventType type, String path, String json, String answer) {
    String event = Samples.with(Samples.event(type), path, json);
    if (answer.equals("ok")) {
      assertThat(Samples.read(event)).isInstanceOf(Reading.Accepted.class);
    } else {
      assertThat(Samples.faultsOf(event)).containsExactly(answer + " " + path);
    }
  }
}
