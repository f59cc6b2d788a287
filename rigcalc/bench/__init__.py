"""Hands at the bench: the tasks, the form an assessor taps, what was seen, and what it comes to."""
