/**
 * The demo ward: an invented scenario as event bodies, with times relative to the moment of
 * loading.
 */
package indwell.boot.demo;
