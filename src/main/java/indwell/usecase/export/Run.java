package indwell.usecase.export;

import indwell.domain.refusal.Issue;
import indwell.domain.refusal.IssueCode;
import indwell.fhir.map.FhirJson;
import indwell.fhir.outcome.Outcomes;
import indwell.port.ExportFile;
import indwell.port.ExportFile.Kind;
import indwell.port.ExportJob;
import indwell.port.ResourceText;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** Writes the files of one export. */
final class Run {
  private static final String OUTCOME = "OperationOutcome";

  private final ExportSource source;
  private final ExportJob job;
  private final Path folder;
  private final long linesPerFile;
  private final Progress progress;

  Run(ExportSource source, ExportJob job, Path folder, long linesPerFile, Progress progress) {
    this.source = source;
    this.job = job;
    this.folder = folder;
    this.linesPerFile = linesPerFile;
    this.progress = progress;
  }

  /**
   * Writes them.
   *
   * @throws Progress.Stopped when nobody wants them any more
   */
  List<ExportFile> write() throws IOException {
    List<ExportFile> made = new ArrayList<>();
    try (NdjsonFiles errors = files(Kind.ERROR, OUTCOME)) {
      for (String remark : job.order().remarks()) {
        errors.add(outcome(Issue.warning(IssueCode.EXPORT_PASSED_OVER, "", remark)));
      }
      for (String type : job.order().types()) {
        made.addAll(write(type, errors));
        progress.typeDone();
      }
      made.addAll(errors.finish());
    }
    return made;
  }

  private List<ExportFile> write(String type, NdjsonFiles errors) throws IOException {
    try (NdjsonFiles files = files(Kind.OUTPUT, type)) {
      ExportSource.Pages pages = source.of(type);
      Optional<String> next = Optional.empty();
      do {
        progress.requireWanted();
        ExportSource.Page page = pages.behind(next);
        for (ResourceText resource : page.resources()) {
          write(resource, files, errors);
        }
        progress.written(page.resources().size());
        next = page.next();
      } while (next.isPresent());
      return files.finish();
    }
  }

  private static void write(ResourceText resource, NdjsonFiles files, NdjsonFiles errors)
      throws IOException {
    Optional<byte[]> line = OneLine.of(resource);
    if (line.isPresent()) {
      files.add(line.get());
    } else {
      errors.add(
          outcome(
              Issue.error(
                  IssueCode.RESOURCE_NOT_EXPORTED,
                  resource.key().type(),
                  "Resource "
                      + resource.key().reference()
                      + " is stored as what is no resource, which is a defect of the service;"
                      + " expected it in JSON.")));
    }
  }

  private NdjsonFiles files(Kind kind, String type) {
    return new NdjsonFiles(folder, kind, type, linesPerFile);
  }

  private static byte[] outcome(Issue issue) {
    return FhirJson.encode(Outcomes.of(List.of(issue))).getBytes(StandardCharsets.UTF_8);
  }
}
