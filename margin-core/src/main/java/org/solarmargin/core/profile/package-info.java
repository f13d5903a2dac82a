/** The craft profile: a {@code .properties} file read strictly, all faults reported together. */
package org.solarmargin.core.profile;
