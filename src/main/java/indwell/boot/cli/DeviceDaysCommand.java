package indwell.boot.cli;

import indwell.domain.rule.RuleSettings;
import indwell.domain.time.FacilityCalendar;
import indwell.port.ClinicalStore;
import indwell.port.ProfileValidator;
import indwell.usecase.DeviceDays;
import indwell.usecase.DeviceDaysCsv;
import indwell.usecase.Facility;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import picocli.CommandLine;
import picocli.CommandLine.Command;

/** Prints the device days that a set of events makes. */
@Command(
    name = "device-days",
    description = "Counts patient days and urinary catheter days by ward and date, as CSV.",
    mixinStandardHelpOptions = true)
final class DeviceDaysCommand extends EventsCommand {
  @CommandLine.Option(
      names = "--start",
      required = true,
      paramLabel = "YYYY-MM-DD",
      description = "First local date.")
  private LocalDate start;

  @CommandLine.Option(
      names = "--end",
      required = true,
      paramLabel = "YYYY-MM-DD",
      description = "Last local date, inclusive.")
  private LocalDate end;

  @CommandLine.Option(
      names = "--count-time",
      paramLabel = "HH:mm",
      defaultValue = "${env:INDWELL_COUNT_TIME:-00:00}",
      description = "Local time of the daily count (default: ${DEFAULT-VALUE}).")
  private LocalTime countTime;

  /** Counting makes no resource that anybody reads, so none is validated. */
  @Override
  ProfileValidator validator() {
    return new ProfileValidator() {
      @Override
      public List<Finding> validate(byte[] json, List<String> profiles) {
        return List.of();
      }

      @Override
      public boolean knows(String profile) {
        return false;
      }
    };
  }

  @Override
  void answer(ClinicalStore store, Instant now) {
    Facility facility =
        new Facility(new FacilityCalendar(zone()), countTime, RuleSettings.DEFAULTS, Map.of());
    String csv =
        new DeviceDays(store, facility)
            .count(new DeviceDays.Question(Optional.empty(), start, end), now)
            .fold(
                DeviceDaysCsv::of,
                issue -> {
                  throw new CommandLine.ParameterException(commandLine(), issue.diagnostics());
                });
    out().print(csv);
    out().flush();
  }
}
