"""One quantity is not known, and follows from all the others."""
