/** The stay of one patient at {@code /patients/{id}}: drawn, as tables, and with its history. */
package indwell.web.page.patient;
