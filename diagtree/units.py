"""Units and their exact conversions."""
