"""The window: the only part of the program that imports Qt."""
