/** First-order lags; not exported. */
package org.solarmargin.core.lag;
