"""Pages of the materials room."""
