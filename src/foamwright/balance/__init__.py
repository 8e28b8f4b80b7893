"""balance."""
