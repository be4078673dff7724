/** The record of one insertion at {@code /insertions/{id}}, made to be printed. */
package indwell.web.page.insertion;
