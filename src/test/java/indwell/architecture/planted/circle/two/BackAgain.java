package indwell.architecture.planted.circle.two;

import indwell.architecture.planted.circle.one.There;

/** Planted: the other half of a circle. */
public interface BackAgain {

  There next();
}
