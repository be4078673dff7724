package indwell.access;

import java.util.EnumSet;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * A SMART scope about FHIR resources, {@code system/Procedure.rs}.
 *
 * @param type the resource type; {@code *} for every type that needs no scope of its own name
 * @param permissions never empty
 */
public record Scope(Context context, String type, Set<Permission> permissions) {
  /** Types that a scope for all types does not reach: who may see who looked is said by name. */
  private static final Set<String> BY_NAME_ALONE = Set.of("AuditEvent");

  private static final String ALL = "*";

  /** Letters in their order, or what version 1 of the guide had instead of them. */
  private static final Pattern FORM =
      Pattern.compile("(patient|user|system)/([A-Z][A-Za-z]*|\\*)\\.(c?r?u?d?s?|read|write|\\*)");

  /** On whose behalf. */
  public enum Context {
    /** One patient's record. */
    PATIENT,
    /** What a user may reach. */
    USER,
    /** What a client may reach by itself. */
    SYSTEM
  }

  public Scope {
    permissions = Set.copyOf(permissions);
  }

  /**
   * Reads one; empty for what is none, such as {@code openid}. One that is narrowed by a search
   * ({@code system/Observation.rs?category=...}) is none either: it would give less than it seems
   * to, and giving more is out of the question.
   */
  public static Optional<Scope> parse(String text) {
    Matcher parts = FORM.matcher(text);
    if (!parts.matches() || parts.group(3).isEmpty()) {
      return Optional.empty();
    }
    Context context =
        switch (parts.group(1)) {
          case "patient" -> Context.PATIENT;
          case "user" -> Context.USER;
          default -> Context.SYSTEM;
        };
    return Optional.of(new Scope(context, parts.group(2), permissions(parts.group(3))));
  }

  private static Set<Permission> permissions(String text) {
    return switch (text) {
      case "read" -> EnumSet.of(Permission.READ, Permission.SEARCH);
      case "write" -> EnumSet.of(Permission.CREATE, Permission.UPDATE, Permission.DELETE);
      case ALL -> EnumSet.allOf(Permission.class);
      default -> letters(text);
    };
  }

  private static Set<Permission> letters(String text) {
    EnumSet<Permission> permissions = EnumSet.noneOf(Permission.class);
    text.chars().forEach(letter -> Permission.of(letter).ifPresent(permissions::add));
    return permissions;
  }

  /**
   * Whether it gives that permission for that type. One for a patient gives nothing: there is no
   * launch that says which patient, and without that it would give everybody's record.
   */
  public boolean gives(String wanted, Permission permission) {
    boolean reaches = type.equals(ALL) ? !BY_NAME_ALONE.contains(wanted) : type.equals(wanted);
    return context != Context.PATIENT && reaches && permissions.contains(permission);
  }
}
