package indwell.architecture.planted.web;

import indwell.architecture.planted.adapter.KnowsUseCase;

/** Planted: a route that knows an adapter. */
public interface KnowsAdapter {

  KnowsUseCase adapter();
}
