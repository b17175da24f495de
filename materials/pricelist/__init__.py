"""Reading, comparing and writing price lists: plain Python, no database."""
