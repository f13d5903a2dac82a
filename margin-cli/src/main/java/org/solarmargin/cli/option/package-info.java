/** Options that several verbs share, the files that they name, and exit statuses. */
package org.solarmargin.cli.option;
