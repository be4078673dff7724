/** What is told of a request while it is handled: to its trace, and to the lines of the log. */
package indwell.port.trace;
