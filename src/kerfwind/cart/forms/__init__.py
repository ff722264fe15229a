"""Forms of a cart, one module each."""
