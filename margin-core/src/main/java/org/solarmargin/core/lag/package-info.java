/** First-order lags, for this module alone. */
package org.solarmargin.core.lag;
