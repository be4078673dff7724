package indwell.architecture.planted.usecase;

/** Something for an adapter to see that it should not. */
public interface Fine {}
