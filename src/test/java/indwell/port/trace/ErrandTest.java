package indwell.port.trace;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import org.junit.jupiter.api.DisplayNameGeneration;
import org.junit.jupiter.api.DisplayNameGenerator.ReplaceUnderscores;
import org.junit.jupiter.api.Test;

/** What a thread works for is carried to other threads, and nowhere else. */
@DisplayNameGeneration(ReplaceUnderscores.class)
class ErrandTest {
  private static Errand errand(String request) {
    return new Errand(request, "trace of " + request, NoSpan.NONE);
  }

  @Test
  void a_thread_is_on_the_errand_as_long_as_the_work_lasts() {
    assertThat(errand("1").doing(Errand::current)).isEqualTo(errand("1"));
    assertThat(Errand.current()).isEqualTo(Errand.NONE);
  }

  @Test
  void errands_within_errands_come_back_to_the_outer_one_even_if_they_fail() {
    errand("outer")
        .doing(
            () -> {
              assertThatThrownBy(
                      () ->
                          errand("inner")
                              .doing(
                                  () -> {
                                    throw new IllegalStateException("inner");
                                  }))
                  .hasMessage("inner");
              assertThat(Errand.current()).isEqualTo(errand("outer"));
              return 0;
            });
    assertThat(Errand.current()).isEqualTo(Errand.NONE);
  }

  @Test
  void of_many_errands_on_few_threads_none_is_lost_or_left_behind() throws Exception {
    ExecutorService threads = Executors.newFixedThreadPool(3);
    try {
      List<String> seen = java.util.Collections.synchronizedList(new ArrayList<>());
      List<Future<?>> all = new ArrayList<>();
      for (int i = 0; i < 300; i++) {
        String name = "r" + i;
        all.add(
            threads.submit(
                errand(name).carrying(() -> seen.add(name + "=" + Errand.current().request()))));
        all.add(threads.submit(() -> seen.add("none=" + Errand.current().request())));
      }
      for (Future<?> one : all) {
        one.get();
      }

      assertThat(seen)
          .hasSize(600)
          .allMatch(
              pair -> {
                String[] both = pair.split("=", -1);
                return both[1].equals(both[0].equals("none") ? "" : both[0]);
              });
    } finally {
      threads.shutdownNow();
    }
  }
}
