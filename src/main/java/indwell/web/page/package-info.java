/**
 * What all pages for people share: how they are asked for and answered, their layout and words, and
 * what keeps their forms safe. Plain HTML, complete without scripts.
 */
package indwell.web.page;
