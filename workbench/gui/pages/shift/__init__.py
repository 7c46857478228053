"""The page "Precharge": how the precharge shifts the drawdown."""
