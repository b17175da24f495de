"""Pages of the quotes room."""
