"""What a delivery costs each phase, and what of an order stays committed: plain Python, no database."""
