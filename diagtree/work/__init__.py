"""From belief to verdicts, plan and estimate."""
