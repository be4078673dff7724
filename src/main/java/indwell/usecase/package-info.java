/** What Indwell does, one class a verb: plain Java, everything handed in. */
package indwell.usecase;
