"""The commands: the only place where errors become exit codes."""
