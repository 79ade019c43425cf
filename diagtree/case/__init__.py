"""The case: a journal, the state that it tells, and the walk."""
