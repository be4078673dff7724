package indwell.architecture.planted.fhir;

import jakarta.enterprise.inject.Instance;

/** Planted: a mapper that knows a framework. */
public interface KnowsJakarta {

  Instance<String> mappers();
}
