/** Short programs that show how to embed the library; the build compiles and runs them. */
package org.solarmargin.examples;
