"""The counter chart: the stock at the usual bands."""
