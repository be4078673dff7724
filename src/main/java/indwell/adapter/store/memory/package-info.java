/** The store in memory: what the port means, in the plainest words. */
package indwell.adapter.store.memory;
