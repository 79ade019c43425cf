"""What authors write, as frozen models: trees, families, conditions, the workshop."""
