package indwell.adapter.upstream;

import java.util.Optional;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;

/** Codes that another server gave, as far as they look like codes: a text might be of a patient. */
final class SafeCode {
  private static final Pattern CODE = Pattern.compile("[A-Za-z][A-Za-z0-9_.-]{0,63}");

  private SafeCode() {}

  static Optional<String> of(@Nullable Object text) {
    return Optional.ofNullable(text)
        .map(Object::toString)
        .filter(code -> CODE.matcher(code).matches());
  }
}
