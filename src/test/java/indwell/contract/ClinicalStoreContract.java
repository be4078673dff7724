package indwell.contract;

import indwell.port.ClinicalStore;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;

/** What every {@link ClinicalStore} does. A subclass says only how an empty one is opened. */
@DisplayNameGeneration(ReplaceUnderscores.class)
abstract class ClinicalStoreContract {
  protected ClinicalStore store;

  /** Opens an empty store. */
  abstract ClinicalStore openEmpty() throws Exception;

  @BeforeEach
  void open() throws Exception {
    store = openEmpty();
  }

  @AfterEach
  void close() {
    store.close();
  }

  @Nested
  class Events extends EventsContract {
    @Override
    ClinicalStore store() {
      return store;
    }
  }

  @Nested
  class Resources extends ResourcesContract {
    @Override
    ClinicalStore store() {
      return store;
    }
  }

  @Nested
  class Searches extends SearchesContract {
    @Override
    ClinicalStore store() {
      return store;
    }
  }

  @Nested
  class Whereabouts extends WhereaboutsContract {
    @Override
    ClinicalStore store() {
      return store;
    }
  }

  @Nested
  class Transactions extends TransactionsContract {
    @Override
    ClinicalStore store() {
      return store;
    }
  }

  @Nested
  class Concurrency {
    @Test
    void two_on_one_event_come_one_after_the_other() throws Exception {
      ConcurrencyChecks.twoOnOneEvent(store);
    }

    @Test
    void two_on_one_patient_come_one_after_the_other() throws Exception {
      ConcurrencyChecks.twoOnOnePatient(store);
    }

    @Test
    void what_is_read_as_something_is_held_is_read_behind_the_lock() throws Exception {
      ConcurrencyChecks.twoThatReadAsTheyHold(store);
    }

    @Test
    void no_update_of_eight_threads_is_lost() throws Exception {
      ConcurrencyChecks.noLostUpdate(store);
    }

    @Test
    void a_resource_that_patients_share_is_written_by_all_of_them() throws Exception {
      ConcurrencyChecks.sharedResource(store);
    }

    @Test
    void one_that_fails_takes_nobody_with_it() throws Exception {
      ConcurrencyChecks.failuresStayAlone(store);
    }

    @Test
    void a_reader_sees_one_state_while_others_write() throws Exception {
      ConcurrencyChecks.consistentReader(store);
    }
  }
}
