/**
 * The gate before the estimator: tells samples that can be true from those that cannot, and names
 * the reason. It keeps counts, throws nothing and alters no value.
 */
package org.solarmargin.core.gate;
