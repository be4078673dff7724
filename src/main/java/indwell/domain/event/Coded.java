package indwell.domain.event;

import java.util.Optional;
import java.util.function.Function;

/** Look-up of an enum constant by its wire code. */
final class Coded {
  private Coded() {}

  static <E> Optional<E> find(E[] all, Function<E, String> codeOf, String code) {
    for (E one : all) {
      if (codeOf.apply(one).equals(code)) {
        return Optional.of(one);
      }
    }
    return Optional.empty();
  }
}
