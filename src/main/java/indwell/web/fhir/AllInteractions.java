package indwell.web.fhir;

import indwell.fhir.map.MappingContext;
import indwell.fhir.map.MeasureReportMapper;
import indwell.port.ClinicalStore;
import indwell.port.ExportOrder.Scope;
import indwell.port.ProfileValidator;
import indwell.usecase.CatheterDays;
import indwell.usecase.DescribeWard;
import indwell.usecase.DeviceDays;
import indwell.usecase.Overdue;
import indwell.usecase.PatientFlags;
import indwell.usecase.ReadResources;
import indwell.usecase.SearchResources;
import indwell.usecase.UnitReport;
import indwell.usecase.export.Exports;
import indwell.usecase.sent.CountSent;
import indwell.usecase.transaction.RecordBundle;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;

/** The list of all that can be done under {@code /fhir}; what is not in it does not work. */
final class AllInteractions {
  private static final String MEASURE = "/fhir-profiles/Measure-catheter-device-days.json";

  private AllInteractions() {}

  /**
   * All of them.
   *
   * @param since when the service was started
   */
  static List<Interaction> of(
      ReadResources resources,
      SearchResources search,
      PatientFlags flags,
      RecordBundle bundles,
      ProfileValidator validator,
      DeviceDays deviceDays,
      CatheterDays catheterDays,
      Overdue overdue,
      UnitReport unitReport,
      DescribeWard describeWard,
      MappingContext context,
      MeasureReportMapper reports,
      Exports exports,
      Instant since) {
    CurrentResources current = new CurrentResources(resources, flags);
    SearchReading reading = new SearchReading(search, context.zone());
    Validation validation = new Validation(validator);
    DeviceDayReports dayReports = new DeviceDayReports(reports, file(MEASURE));
    SentDeviceDays sent =
        new SentDeviceDays(new CountSent(deviceDays, validator, context), dayReports);
    List<Interaction> all =
        new ArrayList<>(
            List.of(
                new ReadInteraction(current),
                new VersionReadInteraction(resources),
                new SearchInteraction(SearchForm.QUERY, reading, search),
                new ValidateOperation(validation),
                new ValidateInstanceOperation(current, validation),
                new DeviceDaysOperation(deviceDays, resources, dayReports, sent, false),
                new DeviceDaysOperation(deviceDays, resources, dayReports, sent, true),
                new CatheterDaysOperation(catheterDays, context),
                new DescribeWardInteraction(describeWard),
                new OverdueOperation(overdue, resources, context)));
    all.add(new UnitReportOperation(unitReport, false));
    all.add(new UnitReportOperation(unitReport, true));
    all.add(new SearchInteraction(SearchForm.BODY, reading, search));
    all.addAll(HistoryInteraction.all(resources));
    all.addAll(WorkedOutHistoryRefusal.all());
    all.addAll(exporting(exports, resources, new ExportFilters(search, context.zone())));
    all.addAll(ChangeInteraction.all(bundles));
    all.add(
        new BundleInteraction(bundles, all, store -> reading(store, flags.over(store), context)));
    all.add(new MetadataInteraction(all, since));
    return all;
  }

  private static List<Interaction> exporting(
      Exports exports, ReadResources resources, ExportFilters filters) {
    ExportPatients patients = new ExportPatients(resources, exports);
    return List.of(
        new ExportKickOff(exports, patients, filters, Scope.SYSTEM),
        new ExportKickOff(exports, patients, filters, Scope.PATIENT),
        new ExportKickOff(exports, patients, filters, Scope.GROUP),
        new ExportStatus(exports),
        new ExportFileInteraction(exports));
  }

  /** What can be read within a transaction. */
  private static List<Interaction> reading(
      ClinicalStore store, PatientFlags flags, MappingContext context) {
    ReadResources resources = new ReadResources(store);
    SearchResources search = new SearchResources(store, flags);
    List<Interaction> reading =
        new ArrayList<>(
            List.of(
                new ReadInteraction(new CurrentResources(resources, flags)),
                new VersionReadInteraction(resources),
                new SearchInteraction(
                    SearchForm.QUERY, new SearchReading(search, context.zone()), search)));
    reading.addAll(HistoryInteraction.all(resources));
    return reading;
  }

  private static String file(String name) {
    try (InputStream in = AllInteractions.class.getResourceAsStream(name)) {
      if (in == null) {
        throw new IllegalStateException("The program lacks its file " + name);
      }
      return new String(in.readAllBytes(), StandardCharsets.UTF_8);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
