/**
 * The benchmark: each figure is a ratio of two things measured one after the other in one run.
 * {@code mvn -Pbench verify} runs it; nothing in the tests depends on time.
 */
package indwell.bench;
