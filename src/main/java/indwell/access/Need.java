package indwell.access;

import java.util.Arrays;
import java.util.Comparator;
import java.util.EnumSet;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;

/** What a caller has to be given to do one thing. */
public sealed interface Need {

  /** What is lacking, as it would have to be asked for; empty when all is there. */
  Optional<String> lacking(Scopes scopes, Set<Role> roles);

  /**
   * Permissions for a type, all of them.
   *
   * @param type a resource type
   */
  static Need of(String type, Permission first, Permission... more) {
    return new OnType(type, EnumSet.of(first, more));
  }

  /** Any permission for a type, whichever it is. */
  static Need any(String type) {
    return new AnyOnType(type);
  }

  /** A scope of our own, or a role that does as well. */
  static Need of(OwnScope scope) {
    return new Own(scope);
  }

  /** That it is known who asks, and nothing more. */
  static Need known() {
    return new KnownCaller();
  }

  /** One of some roles. */
  static Need of(Set<Role> roles) {
    return new OneRole(roles);
  }

  /** Permissions for a resource type, all of them. */
  record OnType(String type, Set<Permission> permissions) implements Need {
    public OnType {
      permissions = Set.copyOf(permissions);
    }

    @Override
    public Optional<String> lacking(Scopes scopes, Set<Role> roles) {
      String letters =
          scopes.lacking(type, permissions).stream()
              .sorted(Comparator.naturalOrder())
              .map(one -> String.valueOf(one.letter()))
              .collect(Collectors.joining());
      return letters.isEmpty() ? Optional.empty() : Optional.of("system/" + type + "." + letters);
    }
  }

  /** Any permission for a resource type. */
  record AnyOnType(String type) implements Need {
    @Override
    public Optional<String> lacking(Scopes scopes, Set<Role> roles) {
      return Arrays.stream(Permission.values()).anyMatch(one -> scopes.give(type, one))
          ? Optional.empty()
          : Optional.of("system/" + type + ".r");
    }
  }

  /** Nothing beyond being known. */
  record KnownCaller() implements Need {
    @Override
    public Optional<String> lacking(Scopes scopes, Set<Role> roles) {
      return Optional.empty();
    }
  }

  /** A scope of our own. */
  record Own(OwnScope scope) implements Need {
    @Override
    public Optional<String> lacking(Scopes scopes, Set<Role> roles) {
      boolean given = scopes.has(scope.uri()) || scope.role().filter(roles::contains).isPresent();
      return given ? Optional.empty() : Optional.of(scope.uri());
    }
  }

  /** One of some roles. */
  record OneRole(Set<Role> anyOf) implements Need {
    public OneRole {
      anyOf = Set.copyOf(anyOf);
    }

    @Override
    public Optional<String> lacking(Scopes scopes, Set<Role> roles) {
      return anyOf.stream().anyMatch(roles::contains)
          ? Optional.empty()
          : Optional.of(
              anyOf.stream().sorted().map(Role::code).collect(Collectors.joining(" or ")));
    }
  }
}
