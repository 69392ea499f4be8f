"""The engine in the browser's Python: the same bytes as in CPython, and failures in words."""
