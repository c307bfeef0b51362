"""From market to table to page: the arithmetic of a household kitchen."""

__version__ = "0.1.0"
