"""How the precharge shifts the drawdown of one tank at one band."""
