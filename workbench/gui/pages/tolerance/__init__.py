"""The page "Tolerances": will the tank still run long enough when gauges and switch are off?"""
