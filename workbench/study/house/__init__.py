"""Peak demand by every published method, and what covers a pump or well that gives less."""
