"""Fair finishing orders: the engine for `read = "every-order"`."""
