package indwell.bench;

import ca.uhn.fhir.context.FhirContext;
import ca.uhn.fhir.validation.FhirValidator;
import indwell.adapter.validation.Mutants;
import indwell.adapter.validation.StockChain;
import indwell.adapter.validation.Verdicts;
import indwell.adapter.validation.VouchedShapes;
import indwell.adapter.validation.Written;
import indwell.port.ProfileValidator;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.stream.Stream;

/** Validators against the library's own module, one call a resource, on one core. */
final class ValidationBench {
  private static final int TIMED = 400;

  /** At most; either side goes on until the compilers rest. */
  private static final int WARM_ROUNDS = 16;

  private final ProfileValidator pooled;
  private final ProfileValidator vouched;
  private final FhirValidator stock = StockChain.validator(FhirContext.forR4Cached());

  ValidationBench(ProfileValidator pooled) {
    this.pooled = pooled;
    this.vouched = new VouchedShapes(pooled);
  }

  /**
   * @param equal how many resources both have to say the same of
   */
  List<Row> rows(int equal) {
    List<byte[]> written = Written.atLeast(TIMED * 3);
    List<byte[]> timed = written.subList(written.size() - TIMED, written.size());
    List<byte[]> invalid = invalid();
    // Warm: each sees everything once, the vouching one all that came before.
    written.forEach(this::vouched);
    timed.subList(0, 100).forEach(this::stock);
    warm(invalid, 1, this::stock);
    warm(invalid, 10, pooled::validate);
    double byStock = rate(timed, 1, this::stock);
    double byPool = rate(timed, 1, pooled::validate);
    double byShape = rate(timed, 20, this::vouched);
    double stockInvalid = rate(invalid, 1, this::stock);
    double oursInvalid = rate(invalid, 10, pooled::validate);
    String unit = "resources/s";
    List<Row> rows = new ArrayList<>();
    rows.add(
        new Row(
            "validation of what the mapper writes", byShape, "stock module", byStock, unit, 20));
    rows.add(new Row("the same without shapes (pooled)", byPool, "stock module", byStock, unit, 0));
    rows.add(
        new Row(
            "validation of the invalid cases",
            oursInvalid,
            "stock module",
            stockInvalid,
            unit,
            20));
    requireEqual(equal);
    return rows;
  }

  private static void warm(List<byte[]> corpus, int times, Call call) {
    Warming.rounds(WARM_ROUNDS, round -> corpus.size() * times / rate(corpus, times, call));
  }

  private interface Call {
    Object of(byte[] json);
  }

  private static double rate(List<byte[]> corpus, int times, Call call) {
    return Stopwatch.perSecond(
        corpus.size() * times,
        () -> {
          for (int i = 0; i < times; i++) {
            corpus.forEach(call::of);
          }
        });
  }

  /** By its text, as intake asks. */
  private List<ProfileValidator.Finding> vouched(byte[] json) {
    return vouched.validate(new String(json, StandardCharsets.UTF_8));
  }

  private Set<String> stock(byte[] json) {
    return Verdicts.ofStock(stock, json);
  }

  /**
   * Resources as written and one broken copy of each: both say the same, or the run fails. Where
   * the stock module itself fails it says nothing that could be compared; that is counted.
   */
  private void requireEqual(int resources) {
    Mutants mutants = new Mutants(resources);
    int compared = 0;
    int failed = 0;
    for (byte[] one : Written.atLeast(resources / 2)) {
      for (byte[] json : List.of(one, mutants.of(one))) {
        Set<String> byStock = stock(json);
        if (Verdicts.isFailure(byStock)) {
          failed++;
        } else {
          require(Verdicts.ofOurs(pooled, json).equals(byStock), json);
          compared++;
        }
        require(vouched(json).equals(pooled.validate(json)), json);
        if (compared % 1_000 == 0) {
          System.out.printf("%,d compared%n", compared);
        }
      }
    }
    System.out.printf(
        "%,d resources and broken copies: the same messages as the stock module; on %,d more it failed%n",
        compared, failed);
  }

  private static void require(boolean same, byte[] json) {
    if (!same) {
      throw new IllegalStateException(
          "The verdicts differ on " + new String(json, StandardCharsets.UTF_8));
    }
  }

  private static List<byte[]> invalid() {
    try (Stream<Path> files = Files.list(Path.of("fhir-profiles/cases/invalid"))) {
      List<byte[]> all = new ArrayList<>();
      for (Path file : files.filter(one -> one.toString().endsWith(".json")).sorted().toList()) {
        all.add(Files.readAllBytes(file));
      }
      return all;
    } catch (IOException e) {
      throw new IllegalStateException(e);
    }
  }
}
