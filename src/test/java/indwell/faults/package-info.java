/**
 * The fault harness: ends the taking of events at named points and at random times and counts what
 * was acknowledged, found, duplicated and lost. {@code mvn -Pfaults verify} runs it at length.
 */
package indwell.faults;
