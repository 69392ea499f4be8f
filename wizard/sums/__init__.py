"""Sums: every number the job needs, each by one documented function with its units, range and sources.

The modules of this folder are plain arithmetic, one a subject; the engine needs no more. A function promises a finite
number inside the ranges that `forms` gives for its inputs and nothing outside them. `forms` holds what people see of a
sum: what is asked, checked, refused, rounded, plotted, said and cited. The browser fetches it only where a sum is shown.
"""
