"""Runs, rests and starts at a steady draw, against the limits of the motor."""
