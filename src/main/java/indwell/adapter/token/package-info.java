/** Bearer tokens and the issuer that signs them, by a library; the only package that knows it. */
package indwell.adapter.token;
