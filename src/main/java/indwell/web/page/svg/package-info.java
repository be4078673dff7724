/**
 * Drawings as SVG within a page. They carry classes instead of colours, so that the style sheet of
 * the page gives them the light or dark of the machine, and no style of their own, which the
 * Content-Security-Policy of the page would forbid.
 */
package indwell.web.page.svg;
