"""Physics of fasteners, in pure functions."""
