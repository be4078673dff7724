package indwell.architecture.planted.adapter;

import indwell.architecture.planted.usecase.Fine;

/** Planted: an adapter that knows a use case. */
public interface KnowsUseCase {

  Fine useCase();
}
