package indwell.web.fhir;

import indwell.access.Need;
import indwell.access.Permission;
import indwell.domain.event.Ward;
import indwell.fhir.map.FhirJson;
import indwell.fhir.map.FlagMapper;
import indwell.fhir.map.MappingContext;
import indwell.fhir.map.ResourceId;
import indwell.fhir.outcome.Outcomes;
import indwell.fhir.term.Systems;
import indwell.port.ResourceKey;
import indwell.usecase.Overdue;
import indwell.usecase.Overdue.Flags;
import indwell.usecase.Overdue.Raised;
import indwell.usecase.ReadResources;
import indwell.web.HttpAnswer;
import indwell.web.fhir.BundleJson.Entry;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.hl7.fhir.r4.model.Flag;

/** The flags in force at a moment (contract, section 3). */
final class OverdueOperation implements Interaction {
  private static final String DEFINITION = Systems.BASE + "/OperationDefinition/overdue";

  private final Overdue overdue;
  private final ReadResources resources;
  private final MappingContext context;

  OverdueOperation(Overdue overdue, ReadResources resources, MappingContext context) {
    this.overdue = overdue;
    this.resources = resources;
    this.context = context;
  }

  @Override
  public Route route() {
    return Route.of(Set.of("GET", "POST"), "$overdue");
  }

  @Override
  public List<Need> needs(FhirRequest request) {
    return List.of(
        Need.of("Flag", Permission.SEARCH),
        Need.of("Patient", Permission.READ),
        Need.of("Device", Permission.READ));
  }

  @Override
  public HttpAnswer answer(FhirRequest request) {
    OperationInput input = OperationInput.of(request, Set.of("asOf", "ward"));
    Optional<Ward> ward = input.text("ward").map(Ward::new);
    return overdue
        .at(input.time("asOf", request.now()), ward, request.now())
        .fold(
            flags ->
                FhirAnswers.json(request, BundleJson.collection(entries(request.base(), flags))),
            issue -> {
              throw FhirRefusal.of(issue);
            });
  }

  private List<Entry> entries(String base, Flags flags) {
    List<Entry> entries = new ArrayList<>();
    Set<ResourceKey> named = new LinkedHashSet<>();
    for (Raised raised : flags.raised()) {
      Flag flag = FlagMapper.active(raised.flag(), context);
      entries.add(Entry.of(base, "Flag", flag.getIdElement().getIdPart(), FhirJson.encode(flag)));
      named.add(key(ResourceId.patient(raised.patient())));
      named.add(key(ResourceId.device(raised.patient(), raised.flag().catheter().catheter())));
    }
    resources.read(named).forEach(stored -> entries.add(Entry.of(base, stored)));
    if (!flags.remarks().isEmpty()) {
      entries.add(Entry.unnamed(FhirJson.encode(Outcomes.ofRemarks(flags.remarks()))));
    }
    return entries;
  }

  private static ResourceKey key(ResourceId id) {
    return new ResourceKey(id.type(), id.id());
  }

  @Override
  public void describe(Capabilities capabilities) {
    capabilities.operation("overdue", DEFINITION);
  }
}
