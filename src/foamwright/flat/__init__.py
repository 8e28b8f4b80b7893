"""flat."""
