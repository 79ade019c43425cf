"""From evidence to belief, and from belief to the next check."""
