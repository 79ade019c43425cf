"""From YAML and plugins to one joined library."""
