/**
 * Device days of resources that somebody sends to have them counted: read by themselves, without
 * the store.
 */
package indwell.usecase.sent;
