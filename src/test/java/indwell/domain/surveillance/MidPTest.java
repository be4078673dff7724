package indwell.domain.surveillance;

import static indwell.domain.surveillance.Statistics.MID_P;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import indwell.adapter.statistics.BrentRootFinder;
import org.apache.commons.statistics.distribution.ChiSquaredDistribution;
import org.assertj.core.data.Offset;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Limits of a Poisson mean and p values against published and tabulated ones. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class MidPTest {
  private static final Offset<Double> AS_PRINTED = within(0.00005000001);

  /**
   * Source: limits of a Poisson mean, 95 %; the mid-P columns agree with the intervals that CMS
   * Hospital Compare published for 2015 at 0 to 40 events, the Garwood columns follow from the
   * chi-square distribution (Ulm, Am J Epidemiol 1990;131:373-375).
   */
  @ParameterizedTest(name = "{0} events: {1} to {2}, Garwood {3} to {4}")
  @CsvSource({
    "0, , 2.9957, , 3.6889",
    "1, 0.0500, 4.9319, 0.0253, 5.5716",
    "2, 0.3353, 6.6080, 0.2422, 7.2247",
    "3, 0.7631, 8.1645, 0.6187, 8.7673",
    "4, 1.2709, 9.6484, 1.0899, 10.2416",
    "5, 1.8320, 11.0824, 1.6235, 11.6683",
    "6, 2.4318, 12.4793, 2.2019, 13.0595",
    "7, 3.0616, 13.8471, 2.8144, 14.4227",
    "8, 3.7154, 15.1915, 3.4538, 15.7632",
    "9, 4.3891, 16.5164, 4.1154, 17.0848",
    "10, 5.0795, 17.8249, 4.7954, 18.3904",
    "11, 5.7844, 19.1191, 5.4912, 19.6820",
    "12, 6.5018, 20.4009, 6.2006, 20.9616",
    "15, 8.7161, 24.1850, 8.3954, 24.7402",
    "20, 12.5597, 30.3396, 12.2165, 30.8884"
  })
  void limits_of_the_mean(
      int events, Double low, double high, Double garwoodLow, double garwoodHigh) {
    if (low == null) {
      assertThat(MID_P.lower(events)).isEmpty();
    } else {
      assertThat(MID_P.lower(events).orElseThrow()).isCloseTo(low, AS_PRINTED);
      assertThat(Garwood.lower(events)).isCloseTo(garwoodLow, AS_PRINTED);
    }
    assertThat(MID_P.upper(events)).isCloseTo(high, AS_PRINTED);
    assertThat(Garwood.upper(events)).isCloseTo(garwoodHigh, AS_PRINTED);
  }

  /** SIR-24: ln 20. Source: CMS Hospital Compare 2015, and domain rules 4.2. */
  @Test
  void without_an_event_the_upper_limit_is_the_logarithm_of_20() {
    assertThat(MID_P.upper(0)).isCloseTo(Math.log(20), within(1e-12));
  }

  /** SIR-3: the worked p of OpenEpi's documentation (Soe, Sullivan 2006). */
  @Test
  void the_published_p_value() {
    assertThat(MID_P.pValue(4, 3.3)).isCloseTo(0.6571, AS_PRINTED);
  }

  /** SIR-2: derived from section 4.2 of the domain rules. */
  @Test
  void the_p_value_of_four_events_where_fewer_were_predicted() {
    assertThat(MID_P.pValue(4, 1.504)).isCloseTo(0.0849, AS_PRINTED);
  }

  /** SIR-5: derived; two other methods in use, which the published intervals do not follow. */
  @Test
  void other_methods_give_other_limits() {
    assertThat(Garwood.lower(4) / 3.3).isCloseTo(0.330, within(0.0005));
    assertThat(Garwood.upper(4) / 3.3).isCloseTo(3.104, within(0.0005));
    assertThat(Byar.lower(4) / 3.3).isCloseTo(0.326, within(0.0005));
    assertThat(Byar.upper(4) / 3.3).isCloseTo(3.103, within(0.0005));
  }

  /** For O = 0, P = 7.088 the published upper limit is 0.423; Garwood's would be 0.520. */
  @Test
  void the_published_limit_tells_the_methods_apart() {
    assertThat(MID_P.upper(0) / 7.088).isCloseTo(0.423, within(0.0005));
    assertThat(Garwood.upper(0) / 7.088).isCloseTo(0.520, within(0.0005));
  }

  /** The mid-P interval lies within Garwood's, whose coverage is at least 95 % (Ulm 1990). */
  @ParameterizedTest
  @ValueSource(ints = {1, 7, 42, 433, 2_771, 31_337, 1_250_003})
  void limits_lie_within_those_of_Garwood_at_every_size(int events) {
    assertThat(MID_P.lower(events).orElseThrow()).isBetween(Garwood.lower(events), events * 1.0);
    assertThat(MID_P.upper(events)).isBetween(events * 1.0, Garwood.upper(events));
  }

  @Test
  void the_p_value_is_never_above_1() {
    assertThat(MID_P.pValue(3, 3.16)).isLessThanOrEqualTo(1);
    assertThat(MID_P.pValue(0, 0.01)).isLessThanOrEqualTo(1);
  }

  @Test
  void a_root_that_is_not_there_is_refused() {
    org.assertj.core.api.Assertions.assertThatThrownBy(
            () -> new BrentRootFinder().root(x -> x + 13, 0, 1))
        .isInstanceOf(IllegalArgumentException.class);
  }

  /** Exact limits by the chi-square distribution (Garwood; the link: Ulm 1990). */
  private static final class Garwood {
    static double lower(int events) {
      return ChiSquaredDistribution.of(2.0 * events).inverseCumulativeProbability(0.025) / 2;
    }

    static double upper(int events) {
      return ChiSquaredDistribution.of(2.0 * events + 2).inverseCumulativeProbability(0.975) / 2;
    }
  }

  /** Byar's approximation (domain rules 4.2). */
  private static final class Byar {
    private static final double Z = 1.959963984540054;

    static double lower(int events) {
      return events * Math.pow(1 - 1 / (9.0 * events) - Z / (3 * Math.sqrt(events)), 3);
    }

    static double upper(int events) {
      double next = events + 1.0;
      return next * Math.pow(1 - 1 / (9 * next) + Z / (3 * Math.sqrt(next)), 3);
    }
  }
}
