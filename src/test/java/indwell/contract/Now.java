package indwell.contract;

import indwell.port.ClinicalStore;
import indwell.port.ClinicalStore.Reading;
import java.lang.reflect.InvocationTargetException;
import java.lang.reflect.Proxy;

/** Asks a store each question in a transaction of its own. */
final class Now {
  private Now() {}

  static Reading of(ClinicalStore store) {
    return (Reading)
        Proxy.newProxyInstance(
            Now.class.getClassLoader(),
            new Class<?>[] {Reading.class},
            (proxy, question, arguments) ->
                store.read(
                    reading -> {
                      try {
                        return question.invoke(reading, arguments);
                      } catch (InvocationTargetException e) {
                        throw e.getCause() instanceof RuntimeException cause
                            ? cause
                            : new IllegalStateException(e);
                      } catch (IllegalAccessException e) {
                        throw new IllegalStateException(e);
                      }
                    }));
  }
}
