package indwell.adapter.validation;

import indwell.adapter.validation.DefinitionFile.Slice;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Function;
import java.util.function.Supplier;
import org.hl7.fhir.r4.model.Resource;
import org.hl7.fhir.r4.model.ResourceFactory;
import org.hl7.fhir.r5.model.StructureDefinition;
import org.jspecify.annotations.Nullable;

/**
 * The groundwork as it was laid when the program was built: where the definitions of base R4 stand,
 * its types, and the structures that our profiles reach, prepared. Each structure is read when it
 * is first asked for.
 */
final class PackedGroundwork implements Groundwork {
  private final List<Slice> slices = new ArrayList<>();
  private final Supplier<PackedReader> types;
  private final Map<String, Ready> structures = new HashMap<>();

  /** By type and URL. */
  private final Map<String, Supplier<PackedReader>> terminology = new HashMap<>();

  private PackedGroundwork(PackedReader in) {
    Map<String, DefinitionFile> files = new HashMap<>();
    for (int left = in.number(); left > 0; left--) {
      DefinitionFile file = files.computeIfAbsent(in.text(), DefinitionFile::new);
      slices.add(new Slice(file, in.text(), in.text(), in.number(), in.number()));
    }
    types = in.block();
    for (int left = in.number(); left > 0; left--) {
      String url = in.text();
      String version = in.text();
      Ready structure = new Ready(in.block());
      structures.put(url, structure);
      structures.put(url + "|" + version, structure);
    }
    for (int left = in.number(); left > 0; left--) {
      terminology.put(in.text(), in.block());
    }
  }

  /** A structure that is read once. */
  private static final class Ready {
    private final Supplier<PackedReader> packed;
    private @Nullable StructureDefinition definition;

    Ready(Supplier<PackedReader> packed) {
      this.packed = packed;
    }

    synchronized StructureDefinition get() {
      if (definition == null) {
        definition = packed.get().children(PackedModel.R5, new StructureDefinition());
      }
      return definition;
    }
  }

  /**
   * What the build left; nothing where it left none for these profiles, as when a profile was
   * changed and not built.
   *
   * @param profiles what tells our profiles from others
   */
  static @Nullable Groundwork of(String profiles) {
    try (InputStream in =
        PackedGroundwork.class.getResourceAsStream("/" + GroundworkPacking.PATH)) {
      return in == null ? null : read(in.readAllBytes(), profiles);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** The same of bytes that were packed. */
  static @Nullable Groundwork read(byte[] packed, String profiles) {
    PackedReader in = new PackedReader(packed);
    return in.text().equals(profiles) ? new PackedGroundwork(in) : null;
  }

  @Override
  public List<Slice> slices() {
    return slices;
  }

  @Override
  public List<TypeHead> types(Function<String, StructureDefinition> full) {
    PackedReader in = types.get();
    List<TypeHead> heads = new ArrayList<>();
    for (int left = in.number(); left > 0; left--) {
      heads.add(in.children(PackedModel.R5, new TypeHead(full)));
    }
    return heads;
  }

  @Override
  public @Nullable StructureDefinition structure(String canonical) {
    boolean name = canonical.indexOf('/') < 0;
    Ready structure = structures.get(name ? BaseDefinitions.BASE + canonical : canonical);
    return structure == null ? null : structure.get();
  }

  @Override
  public @Nullable Resource terminology(String type, String url) {
    Supplier<PackedReader> packed = terminology.get(Groundwork.key(type, url));
    return packed == null
        ? null
        : packed.get().children(PackedModel.R4, ResourceFactory.createResource(type));
  }
}
