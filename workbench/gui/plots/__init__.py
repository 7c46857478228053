"""Plots: results as pictures. pyqtgraph is imported here only, after the window's first frame."""
