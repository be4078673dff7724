package indwell.adapter.store.memory;

/** Matches identifiers {@code system|value} with the tokens of a search. */
final class Tokens {
  private Tokens() {}

  static boolean matches(String identifier, String token) {
    int bar = token.indexOf('|');
    if (bar < 0) {
      return identifier.substring(identifier.indexOf('|') + 1).equals(token);
    }
    boolean anyValue = bar > 0 && bar == token.length() - 1;
    return anyValue ? identifier.startsWith(token) : identifier.equals(token);
  }
}
