package indwell.docs;

import indwell.adapter.statistics.BrentRootFinder;
import indwell.adapter.statistics.LibraryPoissonCounts;
import indwell.domain.surveillance.CoefficientTable;
import indwell.domain.surveillance.ElectronicCheck;
import indwell.domain.surveillance.Factor;
import indwell.domain.surveillance.GChart;
import indwell.domain.surveillance.HospitalType;
import indwell.domain.surveillance.MidP;
import indwell.domain.surveillance.PredictedCauti;
import indwell.domain.surveillance.StandardisedRatio;
import indwell.domain.surveillance.StandardisedRatio.Calculated;
import indwell.domain.surveillance.StandardisedRatios;
import indwell.domain.surveillance.SurveillanceRates;
import indwell.domain.surveillance.Tally;
import indwell.domain.surveillance.UChart;
import indwell.domain.surveillance.ValidationRun;
import indwell.domain.surveillance.WeeklyEstimate;
import indwell.domain.timeline.DayCount;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.time.DayOfWeek;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/** Works out the rows of the surveillance rules in docs/rules.md; each cell tells its decimals. */
final class SurveillanceSentence {
  private static final StandardisedRatios RATIOS =
      new StandardisedRatios(new MidP(new LibraryPoissonCounts(), new BrentRootFinder()));

  private SurveillanceSentence() {}

  /** The cells behind the first, as the code works them out. */
  static List<String> answer(RulePage.Row row) {
    String given = row.cells().get(0);
    List<Integer> decimals = row.cells().stream().skip(1).map(SurveillanceSentence::scale).toList();
    return switch (row.rule()) {
      case "DUR-1" -> utilisation(given, decimals.get(0));
      case "RATE-1" -> rate(given, decimals.get(0));
      case "SAMPLE-1" -> sample(given, decimals.get(0));
      case "ELEC-1" -> electronic(given);
      case "SIR-1", "SUR-1" -> ratio(given, decimals);
      case "PRED-1" -> predicted(given, decimals);
      case "CHART-U" -> uChart(given, decimals);
      case "CHART-G" -> gChart(given, decimals);
      default -> throw new IllegalArgumentException("No sentence is known for " + row.rule());
    };
  }

  private static List<String> utilisation(String given, int decimals) {
    Matcher days = match("(\\d+) catheter days, (\\d+) patient days", given);
    return shown(SurveillanceRates.deviceUtilisation(number(days, 1), number(days, 2), decimals));
  }

  private static List<String> rate(String given, int decimals) {
    Matcher days = match("(\\d+) events, (\\d+) catheter days", given);
    return shown(SurveillanceRates.perThousand(number(days, 1), number(days, 2), decimals));
  }

  private static List<String> sample(String given, int decimals) {
    Matcher sampled =
        match("(\\d+) of (\\d+) on (\\w+), (\\d+) patient days, (\\d+) device days a month", given);
    WeeklyEstimate estimate =
        new WeeklyEstimate(
            new DayCount(number(sampled, 2), number(sampled, 1)),
            number(sampled, 4),
            Set.of(DayOfWeek.valueOf(sampled.group(3).toUpperCase(Locale.ROOT))),
            number(sampled, 5) * 12,
            12);
    String doubts =
        estimate.doubts().stream()
            .map(doubt -> doubt.name().toLowerCase(Locale.ROOT).replace('_', '-'))
            .collect(Collectors.joining(" "));
    return List.of(
        shown(estimate.catheterDays(decimals)).get(0), doubts.isEmpty() ? "none" : doubts);
  }

  private static List<String> electronic(String given) {
    Matcher counts = match("manual (\\d+), electronic ([\\d ]+)", given);
    ValidationRun run = ValidationRun.NONE;
    Optional<Boolean> passes = Optional.empty();
    for (String month : counts.group(2).split(" ")) {
      passes = new ElectronicCheck(Long.parseLong(month), number(counts, 1)).passes();
      run = run.then(passes);
    }
    return List.of(
        passes.map(SurveillanceSentence::word).orElse("none"),
        Integer.toString(run.months()),
        word(run.validated()));
  }

  private static List<String> ratio(String given, List<Integer> decimals) {
    List<Tally> tallies = new ArrayList<>();
    for (String part : given.split("; ", -1)) {
      Matcher tally = match("(\\d+) observed, ([\\d.]+) predicted", part);
      tallies.add(
          new Tally((int) number(tally, 1), new BigDecimal(tally.group(2)), "one baseline"));
    }
    StandardisedRatio ratio = RATIOS.pooled(tallies);
    if (!(ratio instanceof Calculated found)) {
      return List.of("none", "none", "none", "none", "withheld");
    }
    return List.of(
        found.ratio(decimals.get(0)).toString(),
        found.lower().isEmpty() ? "none" : rounded(found.lower().getAsDouble(), decimals.get(1)),
        rounded(found.upper(), decimals.get(2)),
        rounded(found.p(), decimals.get(3)),
        found.comparison().word());
  }

  private static List<String> predicted(String given, List<Integer> decimals) {
    List<String> words = Arrays.asList(given.split(", ", -1));
    HospitalType type = HospitalType.ofCode(words.get(0)).orElseThrow();
    Map<Factor, String> hospital = new EnumMap<>(Factor.class);
    for (String word : words.subList(1, words.size())) {
      first("(\\d+) beds", word).ifPresent(beds -> hospital.put(Factor.BEDS, beds));
      first("([\\d.]+) days", word).ifPresent(days -> hospital.put(Factor.AVERAGE_STAY_DAYS, days));
      first("share ([\\d.]+)", word).ifPresent(share -> hospital.put(Factor.ICU_SHARE, share));
      first("(major|none)", word).ifPresent(name -> hospital.put(Factor.MEDICAL_SCHOOL, name));
    }
    Optional<String> group =
        Optional.of(words.get(1)).filter(SurveillanceSentence::isLocationGroup);
    long days = Long.parseLong(first("(\\d+) catheter days", words.get(words.size() - 1)).get());
    return new PredictedCauti(type, hospital)
        .predict(group, days)
        .map(
            found ->
                List.of(
                    found.sum().toPlainString(),
                    found.predicted().setScale(decimals.get(1), RoundingMode.HALF_UP).toString()))
        .orElse(List.of("none", "none"));
  }

  private static boolean isLocationGroup(String word) {
    return CoefficientTable.of(HospitalType.ACUTE_CARE).levels(Factor.LOCATION_GROUP).stream()
        .anyMatch(level -> level.name().equals(word));
  }

  private static List<String> uChart(String given, List<Integer> decimals) {
    Matcher series = match("events ([\\d ]+) in ([\\d. ]+)", given);
    String[] events = series.group(1).split(" ");
    String[] units = series.group(2).split(" ");
    List<UChart.Point> points = new ArrayList<>();
    for (int i = 0; i < events.length; i++) {
      points.add(new UChart.Point(Long.parseLong(events[i]), Double.parseDouble(units[i])));
    }
    UChart chart = UChart.of(points).orElseThrow();
    UChart.Limits last = chart.limits().get(points.size() - 1);
    return List.of(
        rounded(chart.centre(), decimals.get(0)),
        rounded(last.lower(), decimals.get(1)),
        rounded(last.upper(), decimals.get(2)),
        word(last.excludes(points.get(points.size() - 1).rate())));
  }

  private static List<String> gChart(String given, List<Integer> decimals) {
    if (given.equals("no gaps")) {
      return GChart.ofDates(List.of()).isEmpty() ? List.of("none", "none", "none") : List.of();
    }
    GChart chart =
        new GChart(
            Stream.of(match("gaps ([\\d ]+)", given).group(1).split(" "))
                .map(Long::valueOf)
                .toList());
    return List.of(
        rounded(chart.centre(), decimals.get(0)),
        rounded(chart.upper(), decimals.get(1)),
        rounded(chart.median(), decimals.get(2)));
  }

  private static Matcher match(String pattern, String given) {
    Matcher matcher = Pattern.compile(pattern).matcher(given);
    if (!matcher.matches()) {
      throw new IllegalArgumentException("docs/rules.md says '" + given + "'");
    }
    return matcher;
  }

  private static Optional<String> first(String pattern, String word) {
    Matcher matcher = Pattern.compile(pattern).matcher(word);
    return matcher.matches() ? Optional.of(matcher.group(1)) : Optional.empty();
  }

  private static long number(Matcher matcher, int group) {
    return Long.parseLong(matcher.group(group));
  }

  private static String rounded(double value, int decimals) {
    return BigDecimal.valueOf(value).setScale(decimals, RoundingMode.HALF_UP).toPlainString();
  }

  private static List<String> shown(Optional<BigDecimal> value) {
    return List.of(value.map(BigDecimal::toPlainString).orElse("none"));
  }

  private static String word(boolean yes) {
    return yes ? "yes" : "no";
  }

  private static int scale(String cell) {
    int point = cell.indexOf('.');
    return point < 0 ? 0 : cell.length() - point - 1;
  }
}
