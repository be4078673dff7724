package indwell.fhir.map;

import java.util.ArrayList;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * What a change of events changes among the resources.
 *
 * @param written new ones and those whose content changes, in the order of the plans
 * @param gone those that no plan makes any more
 */
public record PlanDiff(List<Draft> written, List<Draft> gone) {
  public PlanDiff {
    written = List.copyOf(written);
    gone = List.copyOf(gone);
  }

  /**
   * The difference between the plans of the same patients before and after. Patients are compared
   * together, because an event that moves to another patient takes its resources along.
   */
  public static PlanDiff between(
      Collection<ResourcePlan> plansBefore, Collection<ResourcePlan> plansAfter) {
    Map<ResourceId, Draft> before = together(plansBefore);
    Map<ResourceId, Draft> after = together(plansAfter);
    List<Draft> written = new ArrayList<>();
    for (Draft draft : after.values()) {
      Draft known = before.get(draft.id());
      if (known == null || !known.fingerprint().equals(draft.fingerprint())) {
        written.add(draft);
      }
    }
    List<Draft> gone = new ArrayList<>(before.values());
    gone.removeIf(draft -> after.containsKey(draft.id()));
    return new PlanDiff(written, gone);
  }

  private static Map<ResourceId, Draft> together(Collection<ResourcePlan> plans) {
    if (plans.size() == 1) {
      return plans.iterator().next().byId();
    }
    Map<ResourceId, Draft> all = new LinkedHashMap<>();
    plans.forEach(plan -> all.putAll(plan.byId()));
    return all;
  }
}
