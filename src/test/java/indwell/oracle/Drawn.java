package indwell.oracle;

import java.util.List;

/** Histories of one run of the SQL; in words when there are few. */
record Drawn(List<History> histories) {
  private static final int FEW = 3;

  @Override
  public String toString() {
    return histories.size() > FEW ? histories.size() + " histories" : histories.toString();
  }
}
