"""Faults of a well system, set loose on a rig, and the readings that tell them from each other."""
