"""Getting in: throttled log-in, links to choose a password, second factor, and the browsers that are in."""
