"""Documents for an alternative drive control on a power wheelchair, from one recorded case."""

__version__ = "0.1.0"
