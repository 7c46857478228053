"""The bench: enter pump, switch and site; read the required drawdown; choose among ranked tanks."""
