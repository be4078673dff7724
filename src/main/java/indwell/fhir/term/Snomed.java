package indwell.fhir.term;

/**
 * SNOMED CT concepts in use. Source of codes and displays: SNOMED Global Patient Set (International
 * edition 2020-07-31) unless noted.
 */
public final class Snomed {
  /** Source: expansion of FHIR's device-type value set. */
  public static final Term INDWELLING_CATHETER = of("23973005", "Indwelling urinary catheter");

  /** Source: expansion of FHIR's device-type value set. */
  public static final Term URINARY_CATHETER =
      of("20568009", "Urinary catheter, device (physical object)");

  public static final Term INSERTION =
      of("410024004", "Catheterization of urinary bladder (procedure)");

  /** Source: SNOMED CT Editorial Guide, procedure attributes. */
  public static final Term REMOVAL =
      of("43748006", "Removal of urinary bladder catheter (procedure)");

  public static final Term EXCHANGE = of("176192000", "Change of urethral catheter (procedure)");
  public static final Term CARE = of("410253009", "Urinary catheter care management (procedure)");
  public static final Term ATTENTION = of("182524008", "Attention to urinary catheter (procedure)");
  public static final Term BLADDER = of("89837001", "Urinary bladder structure (body structure)");
  public static final Term NOT_INDICATED = of("410534003", "Not indicated (qualifier value)");
  public static final Term INDICATION_FOR_PROCEDURE =
      of("432678004", "Indication for procedure (observable entity)");

  public static final Term CATHETER_URINE =
      of("446846006", "Urine specimen obtained via indwelling urinary catheter (specimen)");

  /** Source: HL7 CDA HAI, NHSNSpecimenTypeCode. */
  public static final Term SUPRAPUBIC_CATHETER_URINE =
      of("699287008", "Urine specimen obtained via suprapubic indwelling urinary catheter");

  /** Source: KBV_VS_MIO_LAB_Specimen_Collection_Method_SNOMED_CT. */
  public static final Term COLLECTION_VIA_CATHETER =
      of("446775007", "Collection of urine via indwelling urinary catheter (procedure)");

  /** Source: KBV_VS_MIO_LAB_Specimen_Collection_Method_SNOMED_CT. */
  public static final Term COLLECTION_VIA_SUPRAPUBIC_CATHETER =
      of("698087006", "Collection of urine via indwelling suprapubic catheter");

  private Snomed() {}

  static Term of(String code, String display) {
    return new Term(Systems.SNOMED, code, display);
  }
}
