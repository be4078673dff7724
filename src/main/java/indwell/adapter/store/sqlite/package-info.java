/** The embedded store: one SQLite file in the data folder, used by one process. */
package indwell.adapter.store.sqlite;
