/** The ward page at {@code /}: plain HTML, complete without scripts. */
package indwell.web.ward;
