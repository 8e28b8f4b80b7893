"""Foamwright: from an idea to a published, flown plan."""

__version__ = "0.1.0"
