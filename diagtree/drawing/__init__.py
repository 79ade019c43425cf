"""Tree diagrams."""
