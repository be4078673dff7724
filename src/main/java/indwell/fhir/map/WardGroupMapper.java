package indwell.fhir.map;

import indwell.domain.event.Ward;
import indwell.fhir.term.Profiles;
import indwell.fhir.term.Systems;
import java.util.Set;
import java.util.SortedSet;
import org.hl7.fhir.r4.model.CodeableConcept;
import org.hl7.fhir.r4.model.Group;
import org.hl7.fhir.r4.model.Reference;

/**
 * The patients who were ever in a ward; those who have left it are inactive.
 *
 * <p>Source: https://hl7.org/fhir/R4/group.html
 */
public final class WardGroupMapper {
  private WardGroupMapper() {}

  /**
   * The Group of a ward.
   *
   * @param name the ward's name for people
   * @param members ids of the patients who were ever there
   * @param present of those, the ids of the patients who are there now
   */
  public static Group of(Ward ward, String name, SortedSet<String> members, Set<String> present) {
    Group group =
        Parts.claim(new Group(), new ResourceId("Group", ward.code()), Profiles.WARD_GROUP);
    group.addIdentifier().setSystem(Systems.WARD).setValue(ward.code());
    group.setActive(true);
    group.setType(Group.GroupType.PERSON);
    group.setActual(true);
    group.setName(name);
    group.setQuantity((int) members.stream().filter(present::contains).count());
    group
        .addCharacteristic()
        .setCode(new CodeableConcept().setText("Ward"))
        .setValue(ResourceId.ward(ward).reference())
        .setExclude(false);
    for (String id : members) {
      group
          .addMember()
          .setEntity(new Reference("Patient/" + id))
          .setInactive(!present.contains(id));
    }
    return group;
  }
}
