"""Writes of the materials room: each one transaction, named by the trade's verb."""
