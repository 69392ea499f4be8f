"""Drawings, made from numbers and words when the site is built: SVG that follows the page's colours, each with a text alternative."""
