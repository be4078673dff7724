/**
 * What holds for every connection and request, whatever they are about: how long one may take, and
 * what happens to it when the service stops.
 */
@org.jspecify.annotations.NullMarked
package indwell.web.edge;
