package indwell.architecture.planted.adapter;

import jakarta.enterprise.context.ApplicationScoped;

/** Planted: a scope outside boot and web. */
@ApplicationScoped
public class HasScope {}
