"""Command: the front door, what the builder does at the bench."""
