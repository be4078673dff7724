package indwell.architecture.planted.elsewhere;

/** Planted: a class in a package that nobody named. */
public interface Anywhere {}
