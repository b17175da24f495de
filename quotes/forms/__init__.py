"""What may be typed in the quotes room."""
