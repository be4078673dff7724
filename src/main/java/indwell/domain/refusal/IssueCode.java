package indwell.domain.refusal;

/**
 * Every code that an answer of the service may carry. A code is never reused; what each one means
 * and what the reader should do stands in {@code docs/errors.md}.
 */
public enum IssueCode {
  MALFORMED_JSON("IND-0001", "structure"),
  DUPLICATE_NAME("IND-0002", "structure"),
  NOT_AN_EVENT_BODY("IND-0003", "structure"),
  TOO_LARGE("IND-0004", "too-long"),
  TOO_MANY_EVENTS("IND-0005", "too-long"),
  MEDIA_TYPE("IND-0006", "not-supported"),
  NESTED_TOO_DEEP("IND-0007", "structure"),
  ABSURD_NUMBER("IND-0008", "value"),
  NOT_AN_OBJECT("IND-0009", "structure"),
  UNKNOWN_FIELD("IND-0010", "structure"),
  MISSING_FIELD("IND-0011", "required"),
  WRONG_TYPE("IND-0012", "structure"),
  MALFORMED_TEXT("IND-0013", "value"),
  UNKNOWN_CODE("IND-0014", "code-invalid"),
  OUT_OF_RANGE("IND-0015", "value"),
  UNREADABLE_TIME("IND-0016", "value"),
  TIME_OUT_OF_RANGE("IND-0017", "value"),
  EMPTY_INTERVAL("IND-0018", "value"),
  NOT_AN_ABSOLUTE_URI("IND-0019", "value"),
  REPLACED_BY_ITSELF("IND-0020", "business-rule"),

  VERSION_CONFLICT("IND-0030", "conflict"),
  SUPERSEDED("IND-0031", "informational"),

  INTERNAL("IND-0090", "exception"),
  STORE_UNAVAILABLE("IND-0091", "transient"),
  BUSY("IND-0092", "throttled"),
  PROFILE_VIOLATED("IND-0093", "exception"),

  NOT_FOUND("IND-0100", "not-found"),
  METHOD_NOT_ALLOWED("IND-0101", "not-supported"),
  NOT_ACCEPTABLE("IND-0102", "not-supported"),
  UNKNOWN_PARAMETER("IND-0103", "not-supported"),
  BAD_PARAMETER("IND-0104", "value"),
  MISSING_PARAMETER("IND-0105", "required"),
  BAD_RESOURCE("IND-0106", "structure"),

  REMOVAL_OF_CATHETER_NOT_IN_PLACE("IND-0201", "business-rule"),
  EXCHANGE_OF_CATHETER_NOT_IN_PLACE("IND-0202", "business-rule"),
  INSERTION_OF_CATHETER_IN_PLACE("IND-0203", "business-rule"),
  FACT_OF_CATHETER_NOT_IN_PLACE("IND-0204", "business-rule"),
  CATHETER_OUTSIDE_STAY("IND-0205", "business-rule"),
  STAY_WITHOUT_ADMISSION("IND-0206", "business-rule"),
  MOVEMENT_AFTER_STAY_ENDED("IND-0207", "business-rule"),
  DISCHARGE_WITHOUT_STAY("IND-0208", "business-rule"),
  ADMITTED_TWICE("IND-0209", "business-rule"),
  STAY_ENDED_BY_NEXT_ADMISSION("IND-0210", "business-rule"),
  STAYS_OVERLAP("IND-0211", "business-rule"),
  MOVEMENTS_AT_ONE_INSTANT("IND-0213", "business-rule"),

  UNREADABLE_MONTH("IND-0220", "value"),
  MONTH_OUT_OF_RANGE("IND-0221", "value"),
  UNREADABLE_DATE("IND-0222", "value"),
  DATE_OUTSIDE_MONTH("IND-0223", "value"),
  DATE_TWICE("IND-0224", "business-rule"),
  EVENTS_MISCOUNTED("IND-0225", "business-rule"),
  MORE_CATHETER_DAYS_THAN_PATIENT_DAYS("IND-0226", "business-rule"),
  SAMPLED_TWICE("IND-0227", "business-rule"),
  FACTS_OF_ANOTHER_PLACE("IND-0228", "business-rule"),
  FACTS_TWICE("IND-0229", "business-rule"),
  MALFORMED_TABLE("IND-0230", "structure"),
  TOO_MANY_ROWS("IND-0231", "too-long"),
  NOT_A_FACTS_BODY("IND-0232", "structure"),
  STALE_VERSION("IND-0233", "conflict"),
  FACTS_NOT_FOUND("IND-0234", "not-found"),

  UNSUPPORTED_MODIFIER("IND-0240", "not-supported"),
  TOO_MANY_FOLLOWED("IND-0241", "too-costly"),
  NO_HISTORY("IND-0242", "not-supported"),

  BAD_BUNDLE("IND-0250", "structure"),
  TOO_MANY_ENTRIES("IND-0251", "too-long"),
  RESOURCE_NOT_TAKEN("IND-0252", "not-supported"),
  RESOURCE_INVALID("IND-0253", "invariant"),
  UNRESOLVED_REFERENCE("IND-0254", "not-found"),
  NO_SINGLE_MATCH("IND-0255", "conflict"),
  NO_IDENTIFIER("IND-0256", "required"),
  CONTRADICTS_EVENTS("IND-0257", "business-rule"),
  MADE_BY_NO_EVENT("IND-0258", "business-rule"),
  KNOWN_WITH_OTHER_CONTENT("IND-0259", "conflict"),
  VERSION_NOT_MATCHED("IND-0260", "conflict"),
  BAD_CONDITION("IND-0261", "not-supported"),
  RESOURCE_TWICE("IND-0262", "conflict"),
  ID_IS_DERIVED("IND-0263", "value"),
  NOT_DELETABLE("IND-0264", "not-supported"),
  NOT_KEPT("IND-0265", "informational"),
  WORKED_OUT_OTHERWISE("IND-0266", "informational"),
  ID_NOT_OF_URL("IND-0267", "value"),
  MODIFIER_NOT_UNDERSTOOD("IND-0268", "extension"),
  KEPT("IND-0269", "informational"),

  EXPORTS_BUSY("IND-0270", "throttled"),
  POLLED_TOO_OFTEN("IND-0271", "throttled"),
  EXPORT_FAILED("IND-0272", "exception"),
  RESOURCE_NOT_EXPORTED("IND-0273", "exception"),
  EXPORT_PASSED_OVER("IND-0274", "not-supported"),

  NOT_THE_CURRENT_VERSION("IND-0290", "conflict"),
  SETTINGS_OF_THE_PAST("IND-0291", "business-rule"),

  NOT_A_QUESTION("IND-0300", "structure"),
  PATIENT_NOT_KNOWN("IND-0301", "not-found"),
  NOT_ONE_OF_TWO("IND-0302", "structure"),
  DATE_OUT_OF_RANGE("IND-0303", "value"),
  DATE_BEFORE_BIRTH("IND-0304", "business-rule"),
  TOO_MANY_ITEMS("IND-0305", "too-long"),
  ORGANISM_OF_ANOTHER_KIND("IND-0306", "business-rule"),
  REVERSED_RANGE("IND-0307", "value"),

  NOTHING_THERE("IND-0320", "required"),
  BYTE_ORDER_MARK("IND-0321", "structure"),
  XML_NOT_READ("IND-0322", "not-supported"),
  DOCUMENT_TOO_LARGE("IND-0323", "too-long"),
  UNREADABLE_FILE("IND-0324", "not-found"),

  BAD_COLLECTION("IND-0340", "structure"),
  NOT_COUNTABLE("IND-0341", "invariant"),
  NOTHING_TO_COUNT("IND-0342", "informational"),
  SENT_DIFFERENTLY("IND-0343", "conflict"),
  USE_SAYS_OTHERWISE("IND-0344", "business-rule"),
  TOO_MUCH_SENT("IND-0345", "too-long"),
  TOO_MANY_PATIENT_REPORTS("IND-0346", "too-costly"),
  STAY_WITH_GAP("IND-0347", "business-rule"),
  MORE_NOT_NAMED("IND-0348", "informational"),

  FORM_FROM_ELSEWHERE("IND-0360", "business-rule"),
  FORM_OUT_OF_DATE("IND-0361", "conflict"),
  BAD_FORM("IND-0362", "value"),
  NO_RECORDER("IND-0363", "required"),
  CATHETER_NOT_THERE("IND-0364", "business-rule"),
  INSERTION_WITHDRAWN("IND-0365", "not-found"),

  HOST_NOT_LOOPBACK("IND-0400", "security"),
  TOKEN_MISSING("IND-0401", "login"),
  TOKEN_REFUSED("IND-0402", "login"),
  SCOPE_MISSING("IND-0403", "forbidden"),
  ROLE_MISSING("IND-0404", "forbidden"),
  ISSUER_UNAVAILABLE("IND-0405", "transient"),
  LOGIN_FAILED("IND-0406", "login"),
  TOO_MANY_REQUESTS("IND-0407", "throttled"),

  NOT_PARKED("IND-0430", "not-found"),
  PUBLISHING_OFF("IND-0431", "not-supported"),

  AUDIT_FULL("IND-0440", "transient"),

  REQUEST_TOO_SLOW("IND-0450", "timeout"),
  ANSWER_TOO_SLOW("IND-0451", "timeout"),
  ORIGIN_NOT_LISTED("IND-0452", "security"),
  ADDRESS_TOO_LONG("IND-0453", "too-long"),
  HEADERS_TOO_LARGE("IND-0454", "too-long"),
  UNREADABLE_HEAD("IND-0455", "structure"),

  TOO_MANY_CONDITIONS("IND-0460", "too-costly"),

  ANSWER_NOT_AUDITED("IND-0461", "transient"),
  STORE_CROWDED("IND-0462", "transient");

  private final String code;
  private final String fhirIssueType;

  IssueCode(String code, String fhirIssueType) {
    this.code = code;
    this.fhirIssueType = fhirIssueType;
  }

  /** The stable code, {@code IND-} and four digits. */
  public String code() {
    return code;
  }

  /** The code of FHIR's issue-type code system that comes nearest. */
  public String fhirIssueType() {
    return fhirIssueType;
  }
}
