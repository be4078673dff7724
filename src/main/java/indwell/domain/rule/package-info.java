/** The rules: each one named, with its source, and saying why it fired. */
package indwell.domain.rule;
