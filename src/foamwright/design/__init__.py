"""The design file: intent, read once into frozen values."""
