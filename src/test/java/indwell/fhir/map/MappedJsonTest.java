package indwell.fhir.map;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.adapter.validation.Written;
import java.math.BigDecimal;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import org.hl7.fhir.r4.model.Extension;
import org.hl7.fhir.r4.model.IntegerType;
import org.hl7.fhir.r4.model.Observation;
import org.hl7.fhir.r4.model.Patient;
import org.hl7.fhir.r4.model.Quantity;
import org.hl7.fhir.r4.model.Resource;
import org.hl7.fhir.r4.model.StringType;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** What intake writes, held against the parser and composer of HAPI FHIR, byte by byte. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class MappedJsonTest {

  @Test
  void every_resource_that_was_written_is_what_HAPI_writes_of_it() {
    Set<String> types = new TreeSet<>();
    for (byte[] json : Written.atLeast(3_000)) {
      String text = new String(json, StandardCharsets.UTF_8);
      Resource read = FhirJson.parse(text);
      read.setId(read.getIdElement().getIdPart());
      assertThat(text).isEqualTo(FhirJson.encode(read));
      types.add(read.fhirType());
    }
    assertThat(types)
        .containsExactly(
            "Device",
            "DeviceUseStatement",
            "Encounter",
            "Location",
            "Observation",
            "Patient",
            "Procedure",
            "Provenance",
            "Specimen");
  }

  @Test
  void texts_are_escaped_alike_and_extensions_may_be_anywhere() {
    Patient patient = new Patient();
    patient.setId("Patient/p/_history/3");
    patient.getMeta().setVersionId("3");
    patient.addIdentifier().setSystem("urn:p").setValue("\" \\ / \t\r\n ä ß € 𝄞 \u007f <b>&'");
    patient.getActiveElement().setValue(true).addExtension("urn:e", new StringType("x"));
    Extension outer = patient.addExtension().setUrl("urn:o");
    outer.setId("i");
    outer.addExtension("urn:n", new StringType("1"));
    outer.addExtension("urn:m", new StringType("2"));
    outer.getUrlElement().addExtension("urn:u", new StringType("3"));
    assertThat(FhirJson.encodeMapped(patient)).isEqualTo(FhirJson.encode(patient));
  }

  @Test
  void characters_are_escaped_as_HAPI_does_it() {
    StringBuilder all = new StringBuilder("x");
    for (char c = 1; c < 0x100; c++) {
      all.append(c);
    }
    Patient patient = new Patient();
    patient.addIdentifier().setValue(all.append("a\u2028b\u2029c").toString());
    assertThat(FhirJson.encodeMapped(patient)).isEqualTo(FhirJson.encode(patient));
  }

  @Test
  void numbers_are_written_as_HAPI_does_it() {
    Observation observation = new Observation();
    for (String number : List.of("0", "0.00", "-12.50", "1E+3", "1E-9", "123456789012345678901")) {
      observation.addComponent().setValue(new Quantity().setValue(new BigDecimal(number)));
    }
    observation.addComponent().setValue(new IntegerType(-7));
    assertThat(FhirJson.encodeMapped(observation)).isEqualTo(FhirJson.encode(observation));
  }
}
