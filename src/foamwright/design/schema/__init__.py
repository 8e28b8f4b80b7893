"""What may stand in a design file: one pydantic model per table, and how it becomes values."""
