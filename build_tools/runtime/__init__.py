"""Makes the browser's part of the site: the trimmed runtime, the engine's archive, their sizes over the wire."""
