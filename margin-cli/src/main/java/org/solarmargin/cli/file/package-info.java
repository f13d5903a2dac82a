/** Output files that are whole or absent, and properties files changed in place. */
package org.solarmargin.cli.file;
