"""The calculations and rooms of the cable assembly workbook."""

__version__ = "0.1.0"
