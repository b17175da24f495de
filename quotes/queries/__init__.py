"""What the pages and services of the quotes room need to know."""
