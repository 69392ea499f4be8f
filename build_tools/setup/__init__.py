"""Brings what a machine lacks, with nothing but the standard library: environment, Node, browser, test tools."""
