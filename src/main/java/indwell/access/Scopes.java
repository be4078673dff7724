package indwell.access;

import java.util.Arrays;
import java.util.EnumSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;

/** The scopes that a token was given. */
public final class Scopes {
  /** None at all. */
  public static final Scopes NONE = new Scopes(Set.of());

  private final Set<String> texts;
  private final List<Scope> resources;

  private Scopes(Set<String> texts) {
    this.texts = Set.copyOf(texts);
    this.resources = texts.stream().map(Scope::parse).flatMap(Optional::stream).toList();
  }

  /** Reads a list with a space between its members (RFC 6749, section 3.3). */
  public static Scopes of(String list) {
    return new Scopes(
        Arrays.stream(list.split(" ", -1))
            .filter(one -> !one.isEmpty())
            .collect(Collectors.toCollection(LinkedHashSet::new)));
  }

  /** Whether a scope of that very name is among them. */
  public boolean has(String name) {
    return texts.contains(name);
  }

  /** Whether they give the permission for the type; several scopes add up. */
  public boolean give(String type, Permission permission) {
    return resources.stream().anyMatch(one -> one.gives(type, permission));
  }

  /** Those of the permissions that they do not give for the type. */
  Set<Permission> lacking(String type, Set<Permission> wanted) {
    EnumSet<Permission> lacking = EnumSet.noneOf(Permission.class);
    wanted.stream().filter(one -> !give(type, one)).forEach(lacking::add);
    return lacking;
  }

  /** Whether any of them is about a patient alone, which gives nothing here. */
  boolean namePatient() {
    return resources.stream().anyMatch(one -> one.context() == Scope.Context.PATIENT);
  }
}
