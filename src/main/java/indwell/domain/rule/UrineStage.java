package indwell.domain.rule;

import java.math.BigDecimal;

/**
 * A stage of low urine output and what it rests on.
 *
 * @param stage 0 (none) to 3
 * @param windowHours length of the window that decided: 6, 12 or 24
 * @param ratePerKgHour mean output over that window in mL/kg/h, rounded half up to 4 decimals
 * @param kg the weight used, in kg
 */
public record UrineStage(int stage, int windowHours, BigDecimal ratePerKgHour, BigDecimal kg) {}
