/** Recognises who asks, in what order whatever comes over HTTP is looked at first. */
package indwell.web.access;
