/**
 * The fault harness: makes the process, its database, its disk, its clock and the hospital's server
 * fail, and counts what was acknowledged, found, duplicated and lost. {@code mvn -Pfaults verify}
 * runs it at length.
 */
package indwell.faults;
