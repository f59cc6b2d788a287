"""The lessons, one module each: their values, tables, drawings and live figures."""
