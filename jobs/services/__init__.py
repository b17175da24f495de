"""What a person of the workshop does, each a function and one transaction."""
