"""Who beats whom: the engine for `read = "each-beats-next"`."""
