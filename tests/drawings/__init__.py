"""The drawings: what they show is what the values say, and nothing leaves its frame."""
