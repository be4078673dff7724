/** The command line, which runs without a store and without starting the server. */
package indwell.boot.cli;
