/** What the use cases need from outside: interfaces and records only. */
package indwell.port;
