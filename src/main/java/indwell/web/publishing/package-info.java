/** How publishing is doing, over HTTP; see docs/publishing.md. */
package indwell.web.publishing;
