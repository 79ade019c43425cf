"""Papers from one data model."""
