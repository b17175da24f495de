"""What does the client see? Papers as values, composed once, kept as they were, drawn as PDF or page."""
