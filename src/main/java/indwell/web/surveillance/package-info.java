/** What people supply and ask for surveillance, facts and candidates: {@code /surveillance}. */
package indwell.web.surveillance;
