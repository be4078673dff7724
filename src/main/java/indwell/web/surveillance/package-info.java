/** Taking and giving back the facts that people supply: {@code /surveillance}. */
package indwell.web.surveillance;
