package indwell.usecase;

/**
 * Device days as comma-separated values: one row a ward and date, sorted by ward (code point), then
 * date; every line ends with CRLF.
 *
 * <p>Source of the format: RFC 4180. Ward codes hold no character that would need quoting.
 */
public final class DeviceDaysCsv {
  private static final String LINE_END = "\r\n";

  private DeviceDaysCsv() {}

  /** The whole text. */
  public static String of(DeviceDays.Table table) {
    StringBuilder csv = new StringBuilder("date,ward,patient_days,catheter_days" + LINE_END);
    table
        .counts()
        .forEach(
            (ward, days) ->
                days.forEach(
                    (date, count) ->
                        csv.append(date)
                            .append(',')
                            .append(ward.code())
                            .append(',')
                            .append(count.patientDays())
                            .append(',')
                            .append(count.catheterDays())
                            .append(LINE_END)));
    return csv.toString();
  }
}
