package indwell.adapter.upstream;

import indwell.port.UpstreamAnswer;
import indwell.port.UpstreamAnswer.Kind;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;

/** A token that somebody put into a file; read with each request, so that it can be replaced. */
public final class BearerFile implements Credentials {
  private final Path file;

  public BearerFile(Path file) {
    this.file = file;
  }

  @Override
  public Optional<String> authorization() {
    return Optional.of("Bearer " + token());
  }

  /** The file may have been replaced while the request was under way. */
  @Override
  public boolean renew(String refused) {
    return !refused.equals("Bearer " + token());
  }

  private String token() {
    try {
      String token = Files.readString(file).strip();
      if (BearerText.usable(token)) {
        return token;
      }
    } catch (IOException unreadable) {
      // Said below; what is in the file is not.
    }
    throw new TokenUnavailable(
        UpstreamAnswer.without(Kind.UNAUTHORISED, 0, "token-file-unreadable"));
  }
}
