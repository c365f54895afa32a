"""The assessor's pages: results and the evidence behind them."""
