"""Turns the facts into the book, the pages and the site, and holds the command line."""

VERSION = "0.1.0"
