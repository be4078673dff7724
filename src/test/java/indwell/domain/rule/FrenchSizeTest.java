package indwell.domain.rule;

import static org.assertj.core.api.Assertions.assertThat;

import java.math.BigDecimal;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

@DisplayNameGeneration(ReplaceUnderscores.class)
class FrenchSizeTest {

  // Source: UCUM 2.2, unit [Ch]: exactly 1 mm / 3. UCUM-2 is the negative test of the definition
  // before version 1.9, which gave 3.1831.
  @ParameterizedTest(name = "{0}: {1} Ch are {3} mm")
  @CsvSource({
    "UCUM-1, 16, 4, 5.3333",
    "UCUM-1, 12, 4, 4.0000",
    "UCUM-1, 18, 4, 6.0000",
    "UCUM-1, 24, 4, 8.0000",
    "UCUM-2, 10, 4, 3.3333",
    "UCUM-3, 1, 6, 0.333333",
    "rule F7 (printed charts), 6, 2, 2.00",
    "rule F7 (printed charts), 8, 2, 2.67",
    "rule F7 (printed charts), 14, 2, 4.67",
    "rule F7 (printed charts), 26, 2, 8.67",
  })
  void millimetres(String row, int ch, int decimals, BigDecimal mm) {
    assertThat(new FrenchSize(ch).millimetres(decimals)).isEqualTo(mm);
  }
}
