"""What a person of the workshop may type in the materials room."""
