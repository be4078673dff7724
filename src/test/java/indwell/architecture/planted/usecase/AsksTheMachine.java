package indwell.architecture.planted.usecase;

import java.security.NoSuchAlgorithmException;
import java.security.SecureRandom;
import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.time.MonthDay;
import java.time.OffsetDateTime;
import java.time.OffsetTime;
import java.time.Year;
import java.time.YearMonth;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.time.ZonedDateTime;
import java.util.Calendar;
import java.util.Date;
import java.util.Random;
import java.util.SplittableRandom;
import java.util.TimeZone;
import java.util.UUID;
import java.util.concurrent.ThreadLocalRandom;
import java.util.function.Supplier;
import java.util.random.RandomGenerator;

/**
 * Planted: a use case that asks the machine for time, zone or chance, each method in another way,
 * and one that hands such a way on.
 */
public final class AsksTheMachine {

  public Object instant() {
    return Instant.now();
  }

  public Object localDate() {
    return LocalDate.now();
  }

  public Object localTime() {
    return LocalTime.now();
  }

  public Object localDateTime() {
    return LocalDateTime.now();
  }

  public Object offsetDateTime() {
    return OffsetDateTime.now();
  }

  public Object offsetTime() {
    return OffsetTime.now();
  }

  public Object zonedDateTime() {
    return ZonedDateTime.now();
  }

  public Object yearMonth() {
    return YearMonth.now();
  }

  public Object year() {
    return Year.now();
  }

  public Object monthDay() {
    return MonthDay.now();
  }

  public Object systemClock() {
    return Clock.systemUTC();
  }

  public Object clockOfMillis() {
    return Clock.tickMillis(ZoneOffset.UTC);
  }

  public Object clockOfSeconds() {
    return Clock.tickSeconds(ZoneOffset.UTC);
  }

  public Object clockOfMinutes() {
    return Clock.tickMinutes(ZoneOffset.UTC);
  }

  public Object millis() {
    return System.currentTimeMillis();
  }

  public Object date() {
    return new Date();
  }

  public Object calendar() {
    return Calendar.getInstance();
  }

  public Object zone() {
    return ZoneId.systemDefault();
  }

  public Object timeZone() {
    return TimeZone.getDefault();
  }

  public Object uuid() {
    return UUID.randomUUID();
  }

  public Object mathRandom() {
    return Math.random();
  }

  public Object strictRandom() {
    return StrictMath.random();
  }

  public Object random() {
    return new Random(7);
  }

  public Object splittable() {
    return new SplittableRandom(7);
  }

  public Object secure() {
    return new SecureRandom();
  }

  public Object secureStrong() throws NoSuchAlgorithmException {
    return SecureRandom.getInstanceStrong();
  }

  public Object ofThread() {
    return ThreadLocalRandom.current();
  }

  public Object generator() {
    return RandomGenerator.getDefault();
  }

  public Supplier<UUID> handedOn() {
    return UUID::randomUUID;
  }
}
