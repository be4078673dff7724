package indwell.adapter.upstream;

import java.util.Optional;

/** How to say who we are. Nothing of it is ever written to a log. */
public interface Credentials {

  /**
   * The value of the header {@code Authorization}; empty to send none.
   *
   * @throws TokenUnavailable if there is none to be had now
   */
  Optional<String> authorization();

  /**
   * Takes note that the server did not accept what it was sent.
   *
   * @return whether another try may help, with something new
   */
  boolean renew(String refused);

  /** For a server that asks nobody. */
  static Credentials none() {
    return new Credentials() {
      @Override
      public Optional<String> authorization() {
        return Optional.empty();
      }

      @Override
      public boolean renew(String refused) {
        return false;
      }
    };
  }
}
