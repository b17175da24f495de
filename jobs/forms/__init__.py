"""What was typed, checked before it goes on."""
