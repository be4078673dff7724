package indwell.access;

import java.util.Optional;

/**
 * What is asked for outside FHIR, where SMART has no scope: it asks for full URIs for such ones. A
 * role of the person does as well.
 */
public enum OwnScope {
  /** Sends bedside events. */
  EVENTS_WRITE("events.write", Optional.empty()),
  /** Reads the facts of surveillance, and asks about candidates. */
  SURVEILLANCE_READ("surveillance.read", Optional.of(Role.PREVENTIONIST)),
  /** Sends the facts of surveillance. */
  SURVEILLANCE_WRITE("surveillance.write", Optional.of(Role.PREVENTIONIST)),
  /** Looks after publishing: what waits, what stands still, what is released or skipped. */
  PUBLISHING("publishing", Optional.empty()),
  /** Reads the figures of the service, in which nobody is named. */
  METRICS("metrics", Optional.empty());

  private static final String BASE = "https://indwell.example/scope/";

  private final String name;
  private final Optional<Role> role;

  OwnScope(String name, Optional<Role> role) {
    this.name = name;
    this.role = role;
  }

  /** The scope as a token has it. */
  public String uri() {
    return BASE + name;
  }

  /** The role that does as well. */
  public Optional<Role> role() {
    return role;
  }
}
