"""The page "Pump and well": whether the pump reaches cut-out, and what it delivers there."""
