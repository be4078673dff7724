/** The store on a PostgreSQL server, which several processes may share. */
package indwell.adapter.store.postgres;
