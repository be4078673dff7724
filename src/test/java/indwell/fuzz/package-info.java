/**
 * Hostile input: every way in, what has to be true of its answers, and the corpus that grows by
 * what is found. {@code mvn -Pfuzz verify} lets a fuzzer loose on it; {@code CorpusTest} sends the
 * corpus in every build.
 */
package indwell.fuzz;
