package indwell.adapter.validation;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import indwell.port.ProfileValidator;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** What is vouched for by its shape is what the validator finds no fault with, and nothing else. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class VouchedShapesTest {
  private static final int RESOURCES = 600;

  private static final Pattern PLAIN_MEMBER =
      Pattern.compile("\"\\w+\":(?:\"(?:[^\"\\\\]|\\\\.)*+\"|[a-z]+|[-0-9.E+]+)");

  @Test
  void what_the_mapper_writes_and_broken_copies_of_it_get_the_verdict_of_the_validator() {
    List<byte[]> written = Written.atLeast(RESOURCES);
    ProfileValidator vouching = new VouchedShapes(Cases.VALIDATOR);
    Set<Shape> seen = new HashSet<>();
    Mutants mutants = new Mutants(20_261_127);
    int vouched = 0;
    int faults = 0;
    for (byte[] resource : written) {
      for (byte[] json : List.of(resource, mutants.of(resource))) {
        List<ProfileValidator.Finding> expected = Cases.VALIDATOR.validate(json);
        String text = new String(json, StandardCharsets.UTF_8);
        boolean known = Shape.of(text).map(shape -> !seen.add(shape)).orElse(false);
        vouched += known && expected.isEmpty() ? 1 : 0;
        faults += expected.isEmpty() ? 0 : 1;
        assertThat(vouching.validate(text)).as(text).isEqualTo(expected);
      }
    }
    assertThat(vouched).as("answered by shape").isGreaterThan(RESOURCES / 2);
    assertThat(faults).as("with findings").isGreaterThan(RESOURCES / 4);
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "same  | {'id':'a'} | {'id':'b'}",
        "other | {'id':'a'} | {'id':'a b'}",
        "other | {'id':'a','x':{'id':'a'}} | {'id':'a','x':{'id':'b'}}",
        "same  | {'identifier':[{'system':'s','value':'v'}]} | {'identifier':[{'system':'s','value':'w'}]}",
        "other | {'identifier':[{'system':'s','value':'v'}]} | {'identifier':[{'system':'s','value':'v w'}]}",
        "other | {'identifier':[{'system':'s','value':'v'}]} | {'identifier':[{'system':'t','value':'v'}]}",
        "other | {'identifier':[{'system':'urn:ietf:rfc:3986','value':'v'}]} | {'identifier':[{'system':'urn:ietf:rfc:3986','value':'w'}]}",
        "other | {'identifier':[{'value':'v'}]} | {'identifier':[{'value':'w'}]}",
        "other | {'coding':[{'system':'s','code':'v'}]} | {'coding':[{'system':'s','code':'w'}]}",
        "same  | {'id':'a','identifier':{'system':'s','value':'a'}} | {'id':'b','identifier':{'system':'s','value':'b'}}",
        "other | {'id':'a','identifier':{'system':'s','value':'a'}} | {'id':'a','identifier':{'system':'s','value':'b'}}",
        "same  | {'subject':{'reference':'Patient/1'}} | {'subject':{'reference':'Patient/2'}}",
        "other | {'subject':{'reference':'Patient/1'}} | {'subject':{'reference':'Device/1'}}",
        "other | {'subject':{'reference':'Patient/1'}} | {'subject':{'reference':'#1'}}",
        "other | {'a':{'reference':'P/1'},'b':{'reference':'P/1'}} | {'a':{'reference':'P/1'},'b':{'reference':'P/2'}}",
        "same  | {'start':'2026-01-01T10:00:00Z','end':'2026-01-02T10:00:00Z'} | {'start':'2027-01-01T10:00:00Z','end':'2027-01-01T10:00:01Z'}",
        "other | {'start':'2026-01-01T10:00:00Z','end':'2026-01-02T10:00:00Z'} | {'start':'2026-01-02T10:00:00Z','end':'2026-01-01T10:00:00Z'}",
        "other | {'start':'2026-01-01T10:00:00Z','end':'2026-01-02T10:00:00Z'} | {'start':'2026-01-01T10:00:00Z','end':'2026-01-01T10:00:00Z'}",
        "other | {'start':'2026-01-01T10:00:00Z'} | {'start':'2026-01-01'}",
        "other | {'start':'2026-02-28T10:00:00Z'} | {'start':'2026-02-30T10:00:00Z'}",
        "other | {'start':'2026-02-28T10:00:00Z'} | {'start':'2026-02-28T10:00:00.5Z'}",
        "other | {'start':'2026-02-28T10:00:00+10:00'} | {'start':'2026-02-28T10:00:00+15:00'}",
        "same  | {'valueQuantity':{'value':10}} | {'valueQuantity':{'value':250}}",
        "other | {'valueQuantity':{'value':10}} | {'valueQuantity':{'value':0}}",
        "other | {'valueQuantity':{'value':10}} | {'valueQuantity':{'value':-10}}",
        "other | {'valueQuantity':{'value':10}} | {'valueQuantity':{'value':10.0}}",
        "other | {'valueQuantity':{'value':10}} | {'valueQuantity':{'value':'10'}}",
        "other | {'valueInteger':10} | {'valueInteger':11}",
        "other | {'a':[1,2]} | {'a':[1],'b':2}",
        "other | {'a':'s1:b'} | {'a':['s1:b']}",
        "other | {'a':true} | {'a':'true'}",
        "other | {'a':null} | {'a':'null'}"
      })
  void what_counts_and_what_does_not(String expected, String one, String other) {
    boolean same = shape(one).equals(shape(other));
    assertThat(same).isEqualTo(expected.equals("same"));
  }

  private static Shape shape(String json) {
    String typed = "{'resourceType':'Patient'," + json.substring(1);
    return Shape.of(typed.replace('\'', '"')).orElseThrow();
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "{'resourceType':'Patient','a':1",
        "[]",
        "x",
        "{'resourceType':'Patient','a':1,'a':2}",
        "{'resourceType':'Patient','resourceType':'Patient'}",
        "{'resourceType':'Patient','a':1}x",
        "{'resourceType':'Patient', 'a':1}",
        "{'a':1,'resourceType':'Patient'}",
        "{'resourceType':'Patient",
        "{'a':{'resourceType':'Patient'}}",
        "{'resourceType':'MeasureReport'}",
        "{'resourceType':'Group'}"
      })
  void what_is_no_resource_of_ours_has_no_shape(String json) {
    assertThat(Shape.of(json.replace('\'', '"'))).isEmpty();
  }

  @Test
  void what_is_asked_of_a_vouched_shape_by_its_bytes_or_by_a_profile_goes_to_the_validator() {
    VouchedShapes vouching = new VouchedShapes(Cases.VALIDATOR);
    byte[] patient = Cases.bytes(Cases.json(Cases.VALID.resolve("catheter-patient.json")));
    String text = new String(patient, StandardCharsets.UTF_8);
    assertThat(vouching.validate(text)).isEmpty();
    assertThat(vouching.validate(text)).isEmpty();
    assertThat(vouching.vouchedFor()).isOne();

    assertThat(vouching.validate(patient)).isEmpty();
    assertThat(vouching.validate(patient, List.of("urn:unknown"))).isNotEmpty();
    assertThat(vouching.vouchedFor()).isOne();
  }

  /** Of one such member, the type of the resource, the validator says nothing. */
  @Test
  void what_has_a_member_twice_has_no_shape() {
    int doubled = 0;
    for (Path file : Cases.files(Cases.VALID, ".json")) {
      String text = new String(Cases.bytes(Cases.json(file)), StandardCharsets.UTF_8);
      Matcher member = PLAIN_MEMBER.matcher(text);
      while (member.find()) {
        String twice = text.substring(0, member.end()) + "," + text.substring(member.start());
        assertThat(Shape.of(twice)).as(twice).isEmpty();
        doubled++;
      }
    }
    assertThat(doubled).isGreaterThan(500);
  }

  /**
   * Each invariant of our profiles was read for what it looks at: presence, codes, systems, types
   * and equality of references, the order of times, whether a number is negative. Only those of
   * MeasureReport, Group and AuditEvent, which have no shape, look further. A new one fails here
   * until somebody has read it.
   */
  @Test
  void every_invariant_has_been_reviewed() {
    Set<String> found = new TreeSet<>();
    for (var file : Cases.conformance()) {
      for (JsonNode element : Cases.json(file).at("/differential/element")) {
        element.path("constraint").forEach(one -> found.add(one.path("key").asText()));
      }
    }
    List<String> reviewed =
        new ArrayList<>(
            List.of(
                "ind-aud-1 ind-aud-2 ind-aud-3 ind-enc-1 ind-enc-2 ind-enc-3 ind-flag-1 ind-flag-2 ind-flag-3 ind-flag-4 ind-grp-1"
                    .split(" ")));
    reviewed.addAll(
        List.of(
            "ind-loc-1 ind-loc-2 ind-loc-3 ind-mr-1 ind-mr-2 ind-mr-3 ind-obs-1 ind-obs-2 ind-obs-3"
                .split(" ")));
    reviewed.addAll(
        List.of(
            "ind-proc-1 ind-proc-2 ind-proc-4 ind-prov-1 ind-prov-2 ind-set-1 ind-set-2 ind-spec-1 ind-use-1 ind-use-2"
                .split(" ")));
    assertThat(found).isEqualTo(new TreeSet<>(reviewed));
  }
}
