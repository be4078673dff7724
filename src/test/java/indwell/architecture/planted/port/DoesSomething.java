package indwell.architecture.planted.port;

/** Planted: a port with a body. */
public class DoesSomething {

  public String done() {
    return "done";
  }
}
