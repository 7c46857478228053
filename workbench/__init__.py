"""Tank workbench: choose, quote, set and explain the pressure tank of a private water well."""

__version__ = "0.1.0"
