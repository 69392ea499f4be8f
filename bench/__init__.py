"""Measurements of the built site and of the engine; run by `make bench`."""
