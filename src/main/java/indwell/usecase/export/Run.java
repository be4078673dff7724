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
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;

/** Writes the files of one export: those of all types are open until the last line is written. */
final class Run implements AutoCloseable {
  private final ExportSource source;
  private final ExportJob job;
  private final Progress progress;
  private final DiskThread disk = new DiskThread();
  private final NdjsonFiles errors;

  /** In the order of the order. */
  private final Map<String, NdjsonFiles> files = new LinkedHashMap<>();

  Run(ExportSource source, ExportJob job, Path folder, long linesPerFile, Progress progress) {
    this.source = source;
    this.job = job;
    this.progress = progress;
    this.errors = new NdjsonFiles(folder, Kind.ERROR, "OperationOutcome", linesPerFile, disk);
    for (String type : job.order().types()) {
      files.put(type, new NdjsonFiles(folder, Kind.OUTPUT, type, linesPerFile, disk));
    }
  }

  /**
   * Writes them.
   *
   * @throws Progress.Stopped when nobody wants them any more
   */
  List<ExportFile> write() throws IOException {
    for (String remark : job.order().remarks()) {
      errors.add(outcome(Issue.warning(IssueCode.EXPORT_PASSED_OVER, "", remark)));
    }
    writeWhole();
    for (String type : files.keySet()) {
      if (source.isSearched(type)) {
        writeSearched(type);
      }
    }
    List<ExportFile> made = new ArrayList<>();
    for (NdjsonFiles ofType : files.values()) {
      made.addAll(ofType.finish());
      progress.typeDone();
    }
    made.addAll(errors.finish());
    return made;
  }

  private void writeWhole() throws IOException {
    try {
      source.whole(
          resource -> {
            progress.requireWanted();
            try {
              write(resource);
            } catch (IOException e) {
              throw new UncheckedIOException(e);
            }
          });
    } catch (UncheckedIOException e) {
      throw e.getCause();
    }
  }

  private void writeSearched(String type) throws IOException {
    ExportSource.Pages pages = source.of(type);
    Optional<String> next = Optional.empty();
    do {
      progress.requireWanted();
      ExportSource.Page page = pages.behind(next);
      for (ResourceText resource : page.resources()) {
        write(resource);
      }
      next = page.next();
    } while (next.isPresent());
  }

  private void write(ResourceText resource) throws IOException {
    Optional<byte[]> line = OneLine.of(resource);
    if (line.isPresent()) {
      Objects.requireNonNull(files.get(resource.key().type())).add(line.get());
    } else {
      errors.add(outcome(noResource(resource)));
    }
    progress.written();
  }

  private static Issue noResource(ResourceText resource) {
    return Issue.error(
        IssueCode.RESOURCE_NOT_EXPORTED,
        resource.key().type(),
        "Resource "
            + resource.key().reference()
            + " is stored as what is no resource, which is a defect of the service;"
            + " expected it in JSON.");
  }

  private static byte[] outcome(Issue issue) {
    return FhirJson.encode(Outcomes.of(List.of(issue))).getBytes(StandardCharsets.UTF_8);
  }

  /** Lets go of what was not finished. */
  @Override
  public void close() throws IOException {
    try (disk) {
      errors.close();
      for (NdjsonFiles ofType : files.values()) {
        ofType.close();
      }
    }
  }
}
