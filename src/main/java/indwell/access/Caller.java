package indwell.access;

import java.util.Optional;
import java.util.Set;

/** Who asks, as far as it is known. */
public sealed interface Caller {
  /** The one that is not asked who it is, because no issuer is configured. */
  Caller DEVELOPMENT = new Development();

  /** The one that has not said who it is. */
  Caller NOBODY = new Nobody(Doubt.NO_TOKEN);

  /** The service itself, at work on what somebody was allowed to order. */
  Caller SERVICE = new Development();

  /**
   * Whom the exports that it orders belong to; empty in development mode, where nobody is told
   * apart.
   */
  String owner();

  /** Whether what belongs to that owner is its own. */
  boolean owns(String owner);

  /** What of the needs is lacking, or that nothing is known of the caller. */
  Verdict decide(Iterable<Need> needs);

  /** Anybody on this machine, in development mode. */
  record Development() implements Caller {
    @Override
    public String owner() {
      return "";
    }

    @Override
    public boolean owns(String owner) {
      return true;
    }

    @Override
    public Verdict decide(Iterable<Need> needs) {
      return new Verdict.Allowed();
    }
  }

  /**
   * Somebody whom nobody vouches for: whatever needs anything is not for them.
   *
   * @param doubt why it is not known who asks
   */
  record Nobody(Doubt doubt) implements Caller {
    @Override
    public String owner() {
      return "nobody";
    }

    @Override
    public boolean owns(String owner) {
      return false;
    }

    @Override
    public Verdict decide(Iterable<Need> needs) {
      return needs.iterator().hasNext() ? new Verdict.Unknown(doubt) : new Verdict.Allowed();
    }
  }

  /**
   * Somebody whom the issuer vouches for.
   *
   * @param issuer that vouches
   * @param client the program
   * @param user the person who uses it; empty for a program on its own
   */
  record Known(String issuer, String client, Optional<String> user, Scopes scopes, Set<Role> roles)
      implements Caller {
    public Known {
      roles = Set.copyOf(roles);
    }

    @Override
    public String owner() {
      return issuer + " " + client;
    }

    @Override
    public boolean owns(String owner) {
      return owner.equals(owner());
    }

    @Override
    public Verdict decide(Iterable<Need> needs) {
      for (Need need : needs) {
        Optional<String> lacking = need.lacking(scopes, roles);
        if (lacking.isPresent()) {
          return new Verdict.Lacking(
              lacking.get(), need instanceof Need.OneRole, scopes.namePatient());
        }
      }
      return new Verdict.Allowed();
    }
  }
}
