"""Bundled plugin."""
