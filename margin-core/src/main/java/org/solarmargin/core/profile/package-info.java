/**
 * The craft profile: a {@code .properties} file, read strictly, with all faults reported together.
 */
package org.solarmargin.core.profile;
