package indwell.adapter.validation;

import static org.assertj.core.api.Assertions.assertThat;

import indwell.fhir.map.FhirJson;
import java.util.List;
import java.util.Map;
import org.hl7.fhir.r4.model.MetadataResource;
import org.hl7.fhir.r4.model.Resource;
import org.hl7.fhir.r5.model.Coding;
import org.hl7.fhir.r5.model.ElementDefinition;
import org.hl7.fhir.r5.model.Enumerations.FHIRVersion;
import org.hl7.fhir.r5.model.Enumerations.PublicationStatus;
import org.hl7.fhir.r5.model.StringType;
import org.hl7.fhir.r5.model.StructureDefinition;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/**
 * What the build prepares for the validator, held against the same worked out anew from the
 * library's definitions and ours.
 */
@DisplayNameGeneration(ReplaceUnderscores.class)
class GroundworkTest {
  private static final List<OwnFile> OWN = OwnFile.all();

  private static DefinitionSet anew;
  private static Map<String, StructureDefinition> structures;
  private static List<MetadataResource> terminology;
  private static byte[] bytes;
  private static Groundwork packed;

  @BeforeAll
  static void prepare() {
    anew = DefinitionSet.complete(Cases.FHIR);
    new HapiProfileValidator(anew.context(), OWN, 1).warmUp();
    structures = anew.context().structures();
    terminology = anew.terminology();
    bytes = GroundworkPacking.of(Cases.FHIR);
    packed = PackedGroundwork.read(bytes, OwnFile.fingerprint(OWN));
  }

  @Test
  void every_structure_is_what_preparing_it_gives_but_for_what_people_are_told() {
    assertThat(structures).hasSizeGreaterThan(100);
    structures.forEach(
        (url, structure) -> {
          StructureDefinition read = packed.structure(url);
          assertThat(GroundworkPacking.withoutProse(structure).equalsDeep(read)).as(url).isTrue();
          assertThat(packed.structure(url + "|" + structure.getVersion())).isSameAs(read);
        });
    assertThat(packed.structure("Patient"))
        .isSameAs(packed.structure("http://hl7.org/fhir/StructureDefinition/Patient"));
    assertThat(packed.structure("http://hl7.org/fhir/StructureDefinition/Nothing")).isNull();
  }

  @Test
  void every_code_system_and_value_set_is_what_parsing_it_gives() {
    assertThat(terminology).hasSizeGreaterThan(80);
    for (MetadataResource one : terminology) {
      Resource read = packed.terminology(one.fhirType(), one.getUrl());
      assertThat(GroundworkPacking.withoutProse(one).equalsDeep(read)).as(one.getUrl()).isTrue();
      assertThat(read.getIdElement().getIdPart()).isEqualTo(one.getIdElement().getIdPart());
    }
    assertThat(packed.terminology("ValueSet", "http://hl7.org/fhir/ValueSet/nothing")).isNull();
  }

  @Test
  void all_of_R4_is_where_it_was_found() {
    Groundwork scanned = Groundwork.scanned();
    assertThat(places(packed)).isEqualTo(places(scanned)).hasSizeGreaterThan(2_500);

    List<TypeHead> types = scanned.types(GroundworkTest::nothing);
    List<TypeHead> read = packed.types(GroundworkTest::nothing);
    assertThat(types).hasSizeGreaterThan(200).hasSameSizeAs(read);
    for (int i = 0; i < types.size(); i++) {
      assertThat(types.get(i).alone().equalsDeep(read.get(i).alone())).isTrue();
    }
  }

  private static StructureDefinition nothing(String url) {
    throw new AssertionError(url);
  }

  private static List<String> places(Groundwork groundwork) {
    return groundwork.slices().stream()
        .map(one -> one.file().name() + one.type() + one.url() + one.start() + "-" + one.end())
        .toList();
  }

  @Test
  void another_byte_in_a_profile_and_it_is_laid_anew() {
    byte[] profile = ProfileFiles.bytes("StructureDefinition-catheter-flag.json");
    byte[] changed = profile.clone();
    changed[changed.length - 1] = ' ';
    String other = OwnFile.fingerprint(List.of(OwnFile.of(changed)));
    assertThat(other).isNotEqualTo(OwnFile.fingerprint(List.of(OwnFile.of(profile))));
    assertThat(PackedGroundwork.read(bytes, other)).isNull();
  }

  /** Otherwise two builds of one commit would differ. */
  @Test
  void it_is_the_same_each_time() {
    assertThat(GroundworkPacking.of(FhirJson.context())).isEqualTo(bytes);
  }

  @Test
  void the_build_has_left_it_on_the_class_path() {
    assertThat(PackedGroundwork.of(OwnFile.fingerprint(OWN))).isNotNull();
  }

  @Test
  void a_validator_on_it_and_one_without_say_the_same() {
    HapiProfileValidator on =
        new HapiProfileValidator(DefinitionSet.of(Cases.FHIR, OWN, packed).context(), OWN, 1);
    HapiProfileValidator without = new HapiProfileValidator(anew.context(), OWN, 1);
    Cases.files(Cases.INVALID, ".json")
        .forEach(
            file ->
                assertThat(on.validate(Cases.bytes(file)))
                    .as(Cases.name(file))
                    .isEqualTo(without.validate(Cases.bytes(file)))
                    .isNotEmpty());
  }

  @Test
  void elements_of_every_kind_come_back() {
    StructureDefinition structure = new StructureDefinition();
    structure.setUrl("https://indwell.example/a").setStatus(PublicationStatus.DRAFT);
    structure.setFhirVersion(FHIRVersion._4_0_1).setAbstract(false);
    structure.addKeyword(new Coding("https://indwell.example/s", "k\u00e4", null));
    structure.getNameElement().addExtension("https://indwell.example/e", new StringType("x"));
    ElementDefinition element = structure.getSnapshot().addElement();
    element.setPath("A").setMin(0).setMax("*").setFixed(new StringType("f"));
    element.addType().setCode("A").addProfile("https://indwell.example/p");

    PackedWriter out = new PackedWriter();
    out.number(1 << 30);
    out.block(block -> block.children(PackedModel.R5, structure));
    out.text("behind");
    PackedReader in = new PackedReader(out.bytes());
    assertThat(in.number()).isEqualTo(1 << 30);
    var block = in.block();
    assertThat(in.text()).isEqualTo("behind");
    for (int time = 0; time < 2; time++) {
      assertThat(
              block.get().children(PackedModel.R5, new StructureDefinition()).equalsDeep(structure))
          .isTrue();
    }
  }
}
