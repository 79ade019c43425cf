"""Proofreading: one rule, one module."""
