"""Bench: the live site and the note form on this machine, while the builder writes."""
