package indwell.usecase;

import indwell.domain.timeline.Remark;
import java.util.Comparator;
import java.util.List;

/** Data-quality remarks as answers list them. */
final class Remarks {
  private Remarks() {}

  /** By time, then by the doubtful event, then by code: the same whatever the order of reading. */
  static List<Remark> inOrder(List<Remark> remarks) {
    return remarks.stream()
        .sorted(
            Comparator.comparing(Remark::at)
                .thenComparing(remark -> remark.events().get(0))
                .thenComparing(Remark::code))
        .toList();
  }
}
