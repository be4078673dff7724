/**
 * The service as HTTP: what the routes share. Routes are Vert.x Web routes, so that every answer,
 * errors included, is made here and nowhere else.
 */
package indwell.web;
