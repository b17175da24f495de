"""What can be done in the quotes room: each function one transaction."""
