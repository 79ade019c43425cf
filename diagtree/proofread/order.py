"""The usual order of keys."""

ORDER = (
    "ask",
    "how",
    "minutes",
    "trust",
    "anytime",
    "behind",
    "fact",
    "reading",
    "caution",
    "answers",
)
"""The keys of a check as they are usually written: what is asked first, where it leads last."""
