/** Wires everything together; the only package that sees all others. */
package indwell.boot;
