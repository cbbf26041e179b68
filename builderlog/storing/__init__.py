"""Storing: the lock, the cache and the staged output; the only code that changes folders."""
