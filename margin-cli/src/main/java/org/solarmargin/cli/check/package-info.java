/** What a profile leaves open, and what each guess in it costs. */
package org.solarmargin.cli.check;
