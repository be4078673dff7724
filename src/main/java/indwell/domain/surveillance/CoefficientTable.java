package indwell.domain.surveillance;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.UncheckedIOException;
import java.math.BigDecimal;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * A published table of coefficients, out of a data file that says at its top what it is, where it
 * comes from and how sure it is.
 *
 * <p>Source: CDC, NHSN 2022 rebaseline, CAUTI risk adjustment, tables 6, 10 and 14.
 */
public final class CoefficientTable {
  private static final String HEADER = "factor,level,at_least,below,estimate,error,p";

  private final Map<String, String> legend;
  private final BigDecimal intercept;
  private final Map<Factor, List<Level>> levels;

  private CoefficientTable(
      Map<String, String> legend, BigDecimal intercept, Map<Factor, List<Level>> levels) {
    this.legend = legend;
    this.intercept = intercept;
    this.levels = levels;
  }

  /**
   * A level of a factor: a name, or a range of numbers.
   *
   * @param name empty for a range
   * @param atLeast lower end, inclusive
   * @param below upper end, exclusive; empty for none
   * @param estimate what the level adds to the sum
   */
  public record Level(
      String name, Optional<BigDecimal> atLeast, Optional<BigDecimal> below, BigDecimal estimate) {

    /** Whether a value as the configuration writes it is of this level. */
    boolean holds(String value) {
      if (atLeast.isEmpty()) {
        return name.equals(value);
      }
      BigDecimal number = new BigDecimal(value);
      return number.compareTo(atLeast.get()) >= 0
          && below.map(end -> number.compareTo(end) < 0).orElse(true);
    }

    /** The name, or the range in words. */
    String shown() {
      return atLeast
          .map(from -> below.map(end -> from + " to below " + end).orElse("at least " + from))
          .orElse(name);
    }
  }

  /**
   * The table of a type of hospital.
   *
   * @throws IllegalStateException if the program lacks the file or the file is broken
   */
  public static CoefficientTable of(HospitalType type) {
    String name = "/indwell/domain/surveillance/predicted-cauti-2022-" + type.code() + ".csv";
    try (InputStream in = CoefficientTable.class.getResourceAsStream(name)) {
      if (in == null) {
        throw new IllegalStateException("The program lacks its file " + name);
      }
      BufferedReader reader = new BufferedReader(new InputStreamReader(in, StandardCharsets.UTF_8));
      return read(name, reader.lines().toList());
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private static CoefficientTable read(String name, List<String> lines) {
    List<String> rows = lines.stream().filter(line -> !line.startsWith("#")).toList();
    if (rows.isEmpty() || !rows.get(0).equals(HEADER)) {
      throw new IllegalStateException("File " + name + " does not begin with " + HEADER);
    }
    Map<Factor, List<Level>> levels = new EnumMap<>(Factor.class);
    Optional<BigDecimal> intercept = Optional.empty();
    for (String row : rows.subList(1, rows.size())) {
      String[] cells = row.split(",", -1);
      Level level =
          new Level(cells[1], number(cells[2]), number(cells[3]), new BigDecimal(cells[4]));
      Optional<Factor> factor = Factor.ofCode(cells[0]);
      if (factor.isPresent()) {
        levels.computeIfAbsent(factor.get(), ignored -> new ArrayList<>()).add(level);
      } else if (cells[0].equals("intercept")) {
        intercept = Optional.of(level.estimate());
      } else {
        throw new IllegalStateException("File " + name + " has an unknown factor " + cells[0]);
      }
    }
    return new CoefficientTable(Legend.of(lines), intercept.orElseThrow(), levels);
  }

  private static Optional<BigDecimal> number(String cell) {
    return cell.isEmpty() ? Optional.empty() : Optional.of(new BigDecimal(cell));
  }

  /** What the top of the file says: {@code table}, {@code version}, {@code source} and so on. */
  public String legend(String entry) {
    return Optional.ofNullable(legend.get(entry))
        .orElseThrow(() -> new IllegalStateException("The table says nothing of its " + entry));
  }

  /** The factors that the table has, the location group among them where it counts. */
  public Set<Factor> factors() {
    return Set.copyOf(levels.keySet());
  }

  /** The levels of a factor; empty where the table does not have it. */
  public List<Level> levels(Factor factor) {
    return List.copyOf(levels.getOrDefault(factor, List.of()));
  }

  /**
   * The sum of the intercept and one estimate for each factor, exact.
   *
   * @throws IllegalArgumentException naming the value, when a factor has none or one of no level
   */
  BigDecimal sum(Map<Factor, String> values) {
    BigDecimal sum = intercept;
    for (Factor factor : levels.keySet()) {
      sum = sum.add(estimate(factor, Optional.ofNullable(values.get(factor))));
    }
    return sum;
  }

  private BigDecimal estimate(Factor factor, Optional<String> value) {
    return levels(factor).stream()
        .filter(level -> value.filter(level::holds).isPresent())
        .map(Level::estimate)
        .findFirst()
        .orElseThrow(() -> new IllegalArgumentException(unknown(factor, value)));
  }

  private String unknown(Factor factor, Optional<String> value) {
    return (value.isPresent()
            ? "Value " + value.get() + " of factor " + factor.code() + " is of no level"
            : "Factor " + factor.code() + " has no value")
        + "; expected one of "
        + String.join(", ", levels(factor).stream().map(Level::shown).toList())
        + ".";
  }
}
