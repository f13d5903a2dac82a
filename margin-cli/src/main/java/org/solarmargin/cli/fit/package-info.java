/** The verbs that turn bench tables into profile lines, with their text, pages and pictures. */
package org.solarmargin.cli.fit;
