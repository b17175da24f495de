"""What a page shows, read in a known number of queries."""
