"""A diagnostic decision-tree engine: from a complaint to a job sheet."""

__version__ = "0.1.0"
