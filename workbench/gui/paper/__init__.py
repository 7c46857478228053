"""Papers in the window: their pages as pictures, to file, to a printer."""
