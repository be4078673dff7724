package indwell.fuzz;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.function.Supplier;
import java.util.stream.Stream;

/** All ways in, each with the corpus in the folder of its name. */
enum Targets {
  EVENTS(EventTarget::new, 1),
  LINES(LineTarget::new, 1),
  SURVEILLANCE(SurveillanceTarget::new, 1),
  FHIR(FhirTarget::new, 5),
  BUNDLES(BundleTarget::new, 4),
  QUERIES(QueryTarget::new, 2),
  TOKENS(TokenTarget::new, 1);

  static final Path CORPUS = Path.of("src/test/resources/indwell/fuzz");

  private final Supplier<Target> maker;
  private final int dearness;

  Targets(Supplier<Target> maker, int dearness) {
    this.maker = maker;
    this.dearness = dearness;
  }

  Target open() {
    return maker.get();
  }

  /** How many times fewer inputs it gets, since each costs more. */
  int dearness() {
    return dearness;
  }

  String title() {
    return name().toLowerCase(Locale.ROOT);
  }

  Path folder() {
    return CORPUS.resolve(title());
  }

  /** The files of its corpus, in order. */
  List<Path> corpus() throws IOException {
    try (Stream<Path> files = Files.list(folder())) {
      return files.sorted().toList();
    }
  }
}
