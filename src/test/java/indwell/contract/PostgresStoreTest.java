package indwell.contract;

import indwell.adapter.store.postgres.PostgresStore;
import indwell.port.ClinicalStore;

/** The store on a server. */
class PostgresStoreTest extends ClinicalStoreContract {
  @Override
  ClinicalStore openEmpty() {
    return PostgresStore.open(TestPostgres.newDatabase(), TestPostgres.USER, TestPostgres.PASSWORD);
  }
}
