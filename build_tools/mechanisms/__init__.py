"""The mechanisms of the trade, and the rules that carry each."""
