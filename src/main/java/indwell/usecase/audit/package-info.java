/** Who did what, kept as rows and shown as AuditEvents. */
package indwell.usecase.audit;
