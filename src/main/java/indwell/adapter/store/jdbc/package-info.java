/**
 * The store in SQL, as far as it is the same for every database. What differs stands behind {@link
 * indwell.adapter.store.jdbc.Database} and {@link indwell.adapter.store.jdbc.Dialect}.
 */
package indwell.adapter.store.jdbc;
