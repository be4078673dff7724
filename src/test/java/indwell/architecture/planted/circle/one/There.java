package indwell.architecture.planted.circle.one;

import indwell.architecture.planted.circle.two.BackAgain;

/** Planted: one half of a circle. */
public interface There {

  BackAgain next();
}
