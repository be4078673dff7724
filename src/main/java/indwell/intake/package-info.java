/**
 * From the bytes of a request to bedside events, or to sentences that say why not.
 *
 * <p>Bytes pass the {@link indwell.intake.JsonGate}, which makes a plain tree of them; the {@link
 * indwell.intake.EventReader} makes an event of the tree. Nothing here looks at other events or at
 * the store.
 */
package indwell.intake;
