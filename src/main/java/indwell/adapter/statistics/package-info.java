/** Exact distributions and root finding by library, behind the interfaces of the domain. */
package indwell.adapter.statistics;
