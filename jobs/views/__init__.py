"""Pages of the jobs room, a file a noun."""
