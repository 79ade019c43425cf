"""The bench screen and the line mode."""
