package indwell.architecture.planted.port;

import javax.sql.DataSource;

/** Planted: a port that says how it is served; javax.sql is none of java's own packages. */
public interface KnowsSql {

  DataSource source();
}
